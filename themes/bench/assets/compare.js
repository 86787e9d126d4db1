/* Sets chosen runs against the first of them, figure by figure: what differs by more than its
   doubt stands out, by an arrow and in words, and nothing else does. */
(function () {
  "use strict";
  var section = document.getElementById("chosen");
  if (!section) { return; }
  var known = JSON.parse(document.getElementById("compared").textContent);
  var place = document.getElementById("comparison"), against = document.getElementById("against");
  var COVERAGE = 2; // k: about 95 in 100 (JCGM 100, 6.3.3)

  function made(tag, text, of) {
    var one = document.createElement(tag);
    if (text) { one.textContent = text; }
    if (of) { one.className = of; }
    return one;
  }

  function run(name) { return document.querySelector('[data-run="' + CSS.escape(name) + '"]'); }
  function title(name) { return run(name).dataset.title; }

  /* Errors from one source count once: u²(a − b) = u²(a) + u²(b) − 2 Σ a_i b_i */
  function doubt(one, other) {
    var theirs = {};
    other[4].forEach(function (error) { theirs[error[0]] = error[1]; });
    var together = one[4].reduce(function (sum, error) { return sum + error[1] * (theirs[error[0]] || 0); }, 0);
    return Math.sqrt(Math.max(0, one[2] * one[2] + other[2] * other[2] - 2 * together));
  }

  function digits(value, decimals) {
    var least = Math.pow(10, -decimals), kept = Math.round(value / least) * least;
    return kept.toFixed(Math.max(0, decimals)).replace("-", "−");
  }

  /* The doubt to two significant digits, the value to the same place (JCGM 100, 7.2.6). */
  function said(value, u, unit) {
    var factor = 1, word = unit, money = /^[A-Z]{3}(\/h)?$|^(\/h)?$/.test(unit);
    if (unit === "g/g") { factor = 100; word = "points"; }
    if (unit === "g" && Math.max(value, u) < 0.01) { factor = 1000; word = "mg"; }
    if (unit === "h" && Math.max(value, u) < 1) { factor = 60; word = "min"; }
    value *= factor;
    u *= factor;
    var size = u > 0 ? Number(u.toPrecision(2)) : value;
    var decimals = size > 0 ? (u > 0 ? 1 : 2) - Math.floor(Math.log10(size)) : 0;
    if (money) { decimals = u > 0 ? Math.min(decimals, 2) : 2; }
    var plus = u > 0 && Number(digits(u, decimals)) > 0 ? " ± " + digits(u, decimals) : "";
    return digits(value, decimals) + plus + (word ? " " + word : "");
  }

  /* What one figure says beside another: [kind, words] */
  function beside(one, other, unit) {
    if (!one || !other) { return ["not", one ? "no such figure there to compare with" : ""]; }
    if (one[1] === null || other[1] === null) { return ["not", "not compared: not known" + (one[1] === null ? "" : " of the first")]; }
    if (one[3] !== other[3]) { return ["not", "not compared: " + one[3] + " against " + other[3]]; }
    var by = one[1] - other[1], u = doubt(one, other), words = said(Math.abs(by), u, unit);
    if (Math.abs(by) <= COVERAGE * u) { return ["within", "within the doubt: " + (by < 0 ? "−" : "") + words]; }
    if (!by) { return ["within", "the same"]; }
    return by > 0 ? ["higher", words + " more"] : ["lower", words + " less"];
  }

  var ARROWS = { higher: "▲ ", lower: "▼ " };

  function cell(names, name, at, unit) {
    var own = known.runs[name][at], td = made("td");
    td.dataset.name = title(name);
    var box = made("div", own ? "" : "–");
    if (own) { box.append(made("span", own[0], own[1] === null ? "unknown" : "digits")); }
    if (own && own[3]) { box.append(made("span", own[3], "standing")); }
    var result = name === names[0] ? null : beside(own, known.runs[names[0]][at], unit);
    if (result && result[1]) {
      var words = made(ARROWS[result[0]] ? "strong" : "span", (ARROWS[result[0]] || "") + result[1], "beside-first " + result[0]);
      box.append(words);
      if (ARROWS[result[0]]) { td.className = "apart"; }
    }
    td.append(box);
    return [td, result && result[0]];
  }

  function head(names) {
    var row = made("tr"), first = made("th", "figure");
    first.scope = "col";
    row.append(first);
    names.forEach(function (name, at) {
      var th = made("th"), link = made("a", title(name)), drop = made("button", "leave out");
      th.scope = "col";
      link.href = run(name).querySelector("th a").getAttribute("href");
      drop.type = "button";
      drop.setAttribute("aria-label", "Leave out " + title(name));
      drop.addEventListener("click", function () { ask(names.filter(function (one) { return one !== name; })); });
      th.append(link, at ? "" : made("span", "the others are set against this", "standing"), " ", drop);
      row.append(th);
    });
    var whole = made("thead");
    whole.append(row);
    return whole;
  }

  function ask(names) { document.dispatchEvent(new CustomEvent("choose", { detail: names })); }

  function chooser(names) {
    var label = made("label", "Set the others against "), select = made("select");
    names.forEach(function (name) { select.add(new Option(title(name), name)); });
    select.addEventListener("change", function () {
      ask([select.value].concat(names.filter(function (one) { return one !== select.value; })));
      against.querySelector("select").focus();
    });
    label.append(select);
    return label;
  }

  function listed(words) {
    return words.length < 2 ? words.join("") : words.slice(0, -1).join(", ") + " and " + words[words.length - 1];
  }

  function sentence(name, first, results) {
    function of(kind) { return results.filter(function (one) { return one[1] === kind; }).map(function (one) { return one[0]; }); }
    var parts = [["higher", "more "], ["lower", "less "], ["within", "no difference beyond the doubt in "], ["not", "not compared: "]]
      .filter(function (pair) { return of(pair[0]).length; })
      .map(function (pair) { return pair[1] + listed(of(pair[0])); });
    return made("li", title(name) + ", against " + title(first) + ": " + parts.join("; ") + ".");
  }

  /* The figures that some of the runs have; first those that the first one has. */
  function inOrder(names) {
    function has(at) { return function (name) { return known.runs[name][at]; }; }
    var all = known.rows.map(function (key, at) { return at; });
    var first = all.filter(function (at) { return has(at)(names[0]); });
    return first.concat(all.filter(function (at) { return first.indexOf(at) < 0 && names.some(has(at)); }));
  }

  function draw(names) {
    section.hidden = !names.length;
    against.replaceChildren();
    place.replaceChildren();
    if (!names.length) { return; }
    if (names.length === 1) {
      place.append(made("p", title(names[0]) + " is chosen. Choose another run below to set the two side by side."));
      return;
    }
    against.append(chooser(names));
    var table = made("table", "", "stack against"), body = made("tbody"), results = {};
    names.forEach(function (name) { results[name] = []; });
    inOrder(names).forEach(function (at) {
      var key = known.rows[at], row = made("tr"), words = (key[1] ? key[1] + " " : "") + key[0], th = made("th", words);
      th.scope = "row";
      row.append(th);
      names.forEach(function (name) {
        var found = cell(names, name, at, key[2]);
        row.append(found[0]);
        if (found[1] && known.runs[name][at] && known.runs[names[0]][at]) { results[name].push([words, found[1]]); }
      });
      body.append(row);
    });
    table.append(head(names), body);
    var scroll = made("div", "", "scroll"), list = made("ul");
    scroll.tabIndex = 0;
    scroll.setAttribute("role", "region");
    scroll.setAttribute("aria-label", "Chosen runs, figure by figure, a table");
    scroll.append(table);
    names.slice(1).forEach(function (name) { list.append(sentence(name, names[0], results[name])); });
    place.append(list, scroll);
  }

  document.addEventListener("chosen", function (told) { draw(told.detail); });
})();
