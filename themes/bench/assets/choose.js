/* Finds runs in the table by scrap, metal, status and words, and lets the reader choose some to
   stand side by side. All of that is kept in the address, so that it can be sent to someone.
   Without this script the table shows all runs. */
(function () {
  "use strict";
  var form = document.getElementById("finder"), table = document.getElementById("compare");
  if (!form || !table) { return; }
  var runs = Array.prototype.slice.call(table.tBodies);
  var fields = ["words", "kind", "metal", "status"].map(function (id) { return document.getElementById(id); });
  var found = document.getElementById("found");
  var boxes = {}, chosen = [], sorted = null, told;

  function folded(text) {
    return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  }

  function given() {
    var state = {};
    location.hash.slice(1).split("&").forEach(function (part) {
      var at = part.indexOf("=");
      if (at > 0) {
        try { state[part.slice(0, at)] = decodeURIComponent(part.slice(at + 1).replace(/\+/g, " ")); } catch (broken) { /* not ours */ }
      }
    });
    return state;
  }

  function keep() {
    var parts = chosen.length ? ["runs=" + chosen.map(encodeURIComponent).join(",")] : [];
    fields.forEach(function (field) {
      if (field.value) { parts.push(field.id + "=" + encodeURIComponent(field.value)); }
    });
    if (sorted) { parts.push("sort=" + encodeURIComponent(sorted.name) + (sorted.down ? "&down=1" : "")); }
    try { history.replaceState(null, "", "#" + parts.join("&")); } catch (refused) { location.hash = parts.join("&"); }
  }

  function fits(run, asked) {
    var of = run.dataset;
    return (!asked.kind || of.kinds.split("|").indexOf(asked.kind) >= 0) &&
      (!asked.metal || of.metals.split("|").indexOf(asked.metal) >= 0) &&
      (!asked.status || of.status === asked.status) &&
      folded(asked.words).split(/\s+/).every(function (word) { return folded(of.words).indexOf(word) >= 0; });
  }

  function show() {
    var asked = {}, count = 0;
    fields.forEach(function (field) { asked[field.id] = field.value; });
    runs.forEach(function (run) {
      run.hidden = !fits(run, asked);
      count += run.hidden ? 0 : 1;
      Array.prototype.forEach.call(run.rows, function (row) {
        row.classList.toggle("aside", Boolean(asked.metal) && row.dataset.metal !== asked.metal && run.rows.length > 1);
      });
    });
    var words = (count === runs.length ? "All " + count : count + " of " + runs.length) + " runs shown. " +
      (chosen.length ? chosen.length + " chosen." : "Tick two or more to set them side by side.");
    clearTimeout(told);
    told = setTimeout(function () { found.textContent = words; }, 250);
  }

  function choose(names) {
    chosen = names.filter(function (name, at) { return boxes[name] && names.indexOf(name) === at; });
    Object.keys(boxes).forEach(function (name) { boxes[name].checked = chosen.indexOf(name) >= 0; });
    document.dispatchEvent(new CustomEvent("chosen", { detail: chosen }));
    show();
  }

  function read() {
    var state = given();
    fields.forEach(function (field) { field.value = state[field.id] || ""; });
    if (state.sort) {
      table.dispatchEvent(new CustomEvent("sort-by", { detail: { name: state.sort, down: state.down === "1" } }));
    }
    choose(state.runs ? state.runs.split(",") : []);
  }

  runs.forEach(function (run) {
    if (run.dataset.planned !== undefined) { return; }
    var label = document.createElement("label"), box = document.createElement("input");
    box.type = "checkbox";
    box.setAttribute("aria-label", "Choose " + run.dataset.title);
    box.addEventListener("change", function () {
      var name = run.dataset.run;
      choose(box.checked ? chosen.concat(name) : chosen.filter(function (one) { return one !== name; }));
      keep();
    });
    label.className = "tick";
    label.append(box);
    run.rows[0].cells[0].prepend(label);
    boxes[run.dataset.run] = box;
  });
  document.addEventListener("choose", function (asked) { choose(asked.detail); keep(); });
  table.addEventListener("sorted", function (order) { sorted = order.detail; keep(); });
  form.addEventListener("input", function () { show(); keep(); });
  form.addEventListener("submit", function (sent) { sent.preventDefault(); });
  form.addEventListener("reset", function () {
    setTimeout(function () { choose([]); keep(); });
  });
  window.addEventListener("hashchange", read);
  form.hidden = false;
  read();
})();
