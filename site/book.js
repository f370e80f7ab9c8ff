// Helps that a reader can do without: a field to find lines of a table by, ticks that stay in this browser,
// and folds that open for printing.
(function () {
  "use strict";
  document.querySelectorAll("table.find").forEach(function (table, index) {
    var rows = Array.prototype.slice.call(table.tBodies[0].rows);
    if (rows.length < 8) { return; }
    var label = document.createElement("label");
    var field = document.createElement("input");
    field.type = "search";
    field.id = "find-" + index;
    label.className = "finder";
    label.textContent = table.dataset.find + " ";
    label.appendChild(field);
    table.parentNode.insertBefore(label, table);
    field.addEventListener("input", function () {
      var wanted = field.value.toLowerCase();
      rows.forEach(function (row) {
        row.hidden = wanted !== "" && row.textContent.toLowerCase().indexOf(wanted) < 0;
      });
    });
  });
  var kept = null;
  try { kept = window.localStorage; } catch (refused) { kept = null; }
  document.querySelectorAll("ul.ticks").forEach(function (list) {
    var boxes = Array.prototype.slice.call(list.querySelectorAll("input"));
    var read = function () {
      try { return JSON.parse(kept.getItem(list.dataset.name)) || []; } catch (nothing) { return []; }
    };
    var write = function () {
      var words = boxes.filter(function (box) { return box.checked; }).map(text);
      try { kept.setItem(list.dataset.name, JSON.stringify(words)); } catch (full) { return; }
    };
    var text = function (box) { return box.nextElementSibling.textContent; };
    var ticked = read();
    boxes.forEach(function (box) {
      box.checked = ticked.indexOf(text(box)) >= 0;
      box.addEventListener("change", write);
    });
    var clear = document.createElement("button");
    clear.type = "button";
    clear.className = "clear";
    clear.textContent = list.dataset.clear;
    clear.addEventListener("click", function () {
      boxes.forEach(function (box) { box.checked = false; });
      write();
    });
    list.parentNode.insertBefore(clear, list.nextSibling);
  });
  window.addEventListener("beforeprint", function () {
    document.querySelectorAll("main details").forEach(function (fold) { fold.open = true; });
  });
}());
