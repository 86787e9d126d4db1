/* Lets the reader sort a table by a column: a button in each heading, the order told by
   aria-sort, and where the headings are not shown, a list to choose from. Whole bodies of rows
   are moved, so that rows which belong together stay so. What is not known comes last either
   way. Without this script the table stands as it was made. */
(function () {
  "use strict";

  function value(body, name, place) {
    var cells = Array.prototype.slice.call(body.querySelectorAll("[data-name]"));
    var shown = cells.filter(function (one) { return one.dataset.name === name && !one.parentNode.classList.contains("aside"); });
    var cell = shown[0] || body.rows[0].cells[place];
    if (!cell) { return null; }
    if (cell.dataset.value === undefined) { return cell.textContent.trim().toLowerCase(); }
    if (cell.dataset.value === "") { return null; }
    return isNaN(cell.dataset.value) ? cell.dataset.value : Number(cell.dataset.value);
  }

  function compared(one, other, down) {
    if (one === null || other === null) { return (one === null) - (other === null); }
    var less = typeof one === "number" && typeof other === "number" ? one - other : String(one).localeCompare(String(other));
    return down ? -less : less;
  }

  function heads(table) {
    return Array.prototype.slice.call(table.tHead.rows[0].cells);
  }

  function sort(table, place, down) {
    var head = heads(table)[place], name = head.dataset.of;
    heads(table).forEach(function (one) { one.removeAttribute("aria-sort"); });
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    Array.prototype.slice.call(table.tBodies)
      .map(function (body) { return [value(body, name, place), body]; })
      .sort(function (one, other) { return compared(one[0], other[0], down); })
      .forEach(function (pair) { table.appendChild(pair[1]); });
    table.dispatchEvent(new CustomEvent("sorted", { detail: { name: name, down: down } }));
  }

  /* For narrow windows, in which the headings are folded away. */
  function list(table) {
    var label = document.createElement("label"), select = document.createElement("select");
    label.className = "sort-by";
    select.add(new Option("as it stands", ""));
    heads(table).forEach(function (head, place) {
      if (head.dataset.plain !== undefined) { return; }
      select.add(new Option(head.dataset.of + ", upwards", place + " up"));
      select.add(new Option(head.dataset.of + ", downwards", place + " down"));
    });
    select.addEventListener("change", function () {
      var said = select.value.split(" ");
      if (said[0]) { sort(table, Number(said[0]), said[1] === "down"); }
    });
    label.append("Sort by ", select);
    (table.closest(".scroll") || table).before(label);
  }

  document.querySelectorAll("table[data-sort]").forEach(function (table) {
    if (table.tBodies.length < 2) { return; }
    heads(table).forEach(function (head, place) {
      head.dataset.of = head.textContent.trim();
      if (head.dataset.plain !== undefined) { return; }
      var button = document.createElement("button");
      button.type = "button";
      button.className = "sorter";
      while (head.firstChild) { button.appendChild(head.firstChild); }
      head.appendChild(button);
      button.addEventListener("click", function () {
        sort(table, place, head.getAttribute("aria-sort") === "ascending");
      });
    });
    list(table);
    table.addEventListener("sort-by", function (asked) {
      heads(table).forEach(function (head, place) {
        if (head.dataset.of === asked.detail.name) { sort(table, place, asked.detail.down); }
      });
    });
  });
})();
