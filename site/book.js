// Helps that a reader can do without: a field to find lines of a table by, ticks that stay in this browser,
// and folds that open for printing. What a narrow screen lays out as a list stays a table to who listens to it.
(function () {
  "use strict";
  var roles = { TABLE: "table", THEAD: "rowgroup", TBODY: "rowgroup", TR: "row", TH: "columnheader", TD: "cell" };
  document.querySelectorAll("table, thead, tbody, tr, th, td").forEach(function (one) {
    one.setAttribute("role", roles[one.tagName]);
  });
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
  var field = document.getElementById("book-find");
  if (field && window.BOOK) {
    var results = document.getElementById("book-found");
    var look = function () {
      var terms = field.value.toLowerCase().split(/\s+/).filter(Boolean);
      var ranked = terms.length === 0 ? [] : window.BOOK.map(function (place) {
        var title = place[2].toLowerCase(), all = title + " " + place[3];
        var fits = terms.every(function (term) { return all.indexOf(term) >= 0; });
        return [fits ? (terms.every(function (term) { return title.indexOf(term) >= 0; }) ? 2 : 1) : 0, place];
      }).filter(function (one) { return one[0]; });
      ranked.sort(function (one, other) { return other[0] - one[0]; });
      results.textContent = "";
      ranked.slice(0, 40).forEach(function (one) {
        var line = document.createElement("li"), link = document.createElement("a");
        link.href = one[1][0];
        link.textContent = one[1][2];
        line.appendChild(link);
        if (one[1][1] !== one[1][2]) { line.appendChild(document.createTextNode(" – " + one[1][1])); }
        results.appendChild(line);
      });
      if (terms.length && !ranked.length) { results.textContent = field.dataset.none; }
    };
    field.addEventListener("input", look);
    look();
  }
  var own = document.querySelector("script[src$='book.js']");
  if (own && "serviceWorker" in navigator && /^https?:$/.test(location.protocol)) {
    navigator.serviceWorker.register(own.src.replace(/book\.js$/, "offline.js")).catch(function () { return null; });
  }
  window.addEventListener("beforeprint", function () {
    document.querySelectorAll("main details").forEach(function (fold) { fold.open = true; });
  });
}());
