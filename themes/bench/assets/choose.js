/* Lets the reader choose which runs stand side by side. The choice is kept in the address,
   so that it can be sent to someone. Without this script the table shows all runs. */
(function () {
  "use strict";
  var place = document.getElementById("choice");
  var runs = Array.prototype.slice.call(document.querySelectorAll("[data-run]"));
  var boxes = {};
  if (!place || runs.length < 2) { return; }

  function chosen() {
    var found = /(?:^|[#&])runs=([^&]*)/.exec(location.hash);
    var names = found ? found[1].split(",") : [];
    return names.filter(function (name) { return boxes[name]; });
  }

  function show() {
    var names = chosen();
    runs.forEach(function (run) {
      var name = run.dataset.run, on = !names.length || names.indexOf(name) >= 0;
      run.hidden = !on;
      boxes[name].checked = on;
    });
    count.textContent = names.length ? names.length + " of " + runs.length + " runs shown" : "all " + runs.length + " runs shown";
  }

  function keep() {
    var names = runs.map(function (run) { return run.dataset.run; });
    var on = names.filter(function (name) { return boxes[name].checked; });
    var whole = !on.length || on.length === names.length;
    var hash = whole ? "#" : "#runs=" + on.join(",");
    try { history.replaceState(null, "", hash); } catch (refused) { location.hash = hash; }
    show();
  }

  function button(text, on) {
    var made = document.createElement("button");
    made.type = "button";
    made.textContent = text;
    made.addEventListener("click", function () {
      runs.forEach(function (run) { boxes[run.dataset.run].checked = on(run); });
      keep();
    });
    return made;
  }

  var details = document.createElement("details");
  var summary = document.createElement("summary");
  var count = document.createElement("span");
  var list = document.createElement("ul");
  details.className = "choice";
  count.setAttribute("role", "status");
  summary.append("Choose runs (", count, ")");
  runs.forEach(function (run) {
    var item = document.createElement("li"), label = document.createElement("label");
    var box = document.createElement("input");
    box.type = "checkbox";
    box.addEventListener("change", keep);
    boxes[run.dataset.run] = box;
    label.append(box, run.dataset.title);
    item.append(label);
    list.append(item);
  });
  details.append(summary, list, button("all", function () { return true; }),
    button("only the last five", function (run) { return runs.indexOf(run) >= runs.length - 5; }));
  place.append(details);
  window.addEventListener("hashchange", show);
  show();
})();
