/* Looks through the names and lines of the book. The index is a script of its own, loaded when
   somebody begins to search; nothing is sent anywhere. Letters count without case or accent,
   and the beginning of a word is enough. Without this script the index from A to Z is there. */
(function () {
  "use strict";
  var form = document.getElementById("search");
  if (!form) { return; }
  var field = document.getElementById("words"), found = document.getElementById("found");
  var results = document.getElementById("results");
  var MOST = 60, AROUND = 70;
  var loading = null, told, waiting;

  function fold(text) { return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase(); }

  function load() {
    loading = loading || new Promise(function (done, failed) {
      var script = document.createElement("script");
      script.src = form.dataset.index;
      script.onload = function () { done(prepared(window.bookIndex)); };
      script.onerror = failed;
      document.head.append(script);
    });
    return loading;
  }

  function prepared(index) {
    var names = index.names.map(function (one) {
      return { kind: one[1], title: one[0], where: one[1] + (one[2] ? ", " + one[2] : ""), href: one[3], text: "", folded: fold(one[0] + " " + one[2]) };
    });
    var lines = index.lines.map(function (one) {
      var source = index.sources[one[0]];
      return { kind: "line", title: "line " + one[1] + " of " + source[0], where: "", href: source[1] + "#" + source[2] + one[1], text: one[2], folded: fold(one[2]) };
    });
    return names.concat(lines);
  }

  function asked() {
    return fold(field.value).split(/\s+/).map(function (word) {
      return word.replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, "");
    }).filter(Boolean);
  }

  function begins(word) {
    return new RegExp("(?<![\\p{L}\\p{N}])" + word.replace(/[.*+?^${}()|[\]\\/-]/g, "\\$&").replace(/\\-/g, "-"), "u");
  }

  /* The text with what was looked for marked, cut to what stands around the first of it. */
  function marked(text, words) {
    var plain = "", at = [], spots = [];
    Array.from(text).reduce(function (place, sign) {
      var own = fold(sign);
      for (var i = 0; i < own.length; i += 1) { at.push(place); }
      plain += own;
      return place + sign.length;
    }, 0);
    at.push(text.length);
    words.forEach(function (word) {
      var hit = begins(word).exec(plain);
      if (hit) { spots.push([at[hit.index], at[hit.index + hit[0].length]]); }
    });
    spots.sort(function (one, other) { return one[0] - other[0]; });
    var from = spots.length && spots[0][0] > AROUND ? text.lastIndexOf(" ", spots[0][0] - AROUND / 2) + 1 : 0;
    var to = Math.min(text.length, Math.max(from + 3 * AROUND, spots.length ? spots[0][1] : 0));
    var whole = document.createElement("q"), done = from;
    if (from > 0) { whole.append("… "); }
    spots.forEach(function (spot) {
      if (spot[0] < done || spot[1] > to) { return; }
      var mark = document.createElement("mark");
      mark.textContent = text.slice(spot[0], spot[1]);
      whole.append(text.slice(done, spot[0]), mark);
      done = spot[1];
    });
    whole.append(text.slice(done, to), to < text.length ? " …" : "");
    return whole;
  }

  function item(one, words) {
    var li = document.createElement("li"), link = document.createElement("a");
    link.href = one.href;
    link.textContent = one.title;
    li.append(link);
    if (one.where) {
      var where = document.createElement("span");
      where.className = "where";
      where.textContent = one.where;
      li.append(" ", where);
    }
    if (one.text) { li.append(" ", marked(one.text, words)); }
    return li;
  }

  function tell(words) {
    clearTimeout(told);
    told = setTimeout(function () { found.textContent = words; }, 200);
  }

  function counted(count, one, many) { return count + " " + (count === 1 ? one : many); }

  function show(all) {
    var words = asked(), tests = words.map(begins);
    var hits = !words.length ? [] : all.filter(function (one) {
      return tests.every(function (test) { return test.test(one.folded); });
    });
    results.replaceChildren();
    hits.slice(0, MOST).forEach(function (one) { results.append(item(one, words)); });
    if (!words.length) { tell(""); return; }
    var lines = hits.filter(function (one) { return one.kind === "line"; }).length;
    var said = hits.length ? counted(hits.length - lines, "name", "names") + " and " + counted(lines, "line", "lines") + " found." : "Nothing found.";
    tell(said + (hits.length > MOST ? " The first " + MOST + " are shown; another word makes them fewer." : ""));
  }

  function search() {
    var hash = asked().length ? "#words=" + encodeURIComponent(field.value) : "#";
    try { history.replaceState(null, "", hash); } catch (refused) { /* a folder that forbids it */ }
    load().then(show).catch(function () { tell("The index cannot be loaded. The list below is whole."); });
  }

  function read() {
    var given = /(?:^#|&)words=([^&]*)/.exec(location.hash);
    if (!given) { return; }
    try { field.value = decodeURIComponent(given[1].replace(/\+/g, " ")); } catch (broken) { return; }
    search();
  }

  field.addEventListener("focus", function () { load().catch(function () { /* told when searched */ }); });
  field.addEventListener("input", function () {
    clearTimeout(waiting);
    waiting = setTimeout(search, 120);
  });
  form.addEventListener("submit", function (sent) { sent.preventDefault(); search(); });
  form.addEventListener("reset", function () { setTimeout(search); });
  window.addEventListener("hashchange", read);
  form.hidden = false;
  read();
})();
