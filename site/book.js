// Helps that a reader can do without: a field to find lines of a table by, and folds that open for printing.
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
  window.addEventListener("beforeprint", function () {
    document.querySelectorAll("main details").forEach(function (fold) { fold.open = true; });
  });
}());
