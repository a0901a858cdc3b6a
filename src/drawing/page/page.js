(function () {
  "use strict";
  var form = document.getElementById("search");
  var input = document.getElementById("words");
  var found = document.getElementById("found");
  var entries = Array.prototype.slice.call(document.querySelectorAll("details.entry"));
  var texts = null;

  function index() {
    texts = entries.map(function (entry) {
      var parts = entry.querySelectorAll("summary, .find");
      return Array.prototype.map.call(parts, function (part) { return part.textContent; })
        .join(" ").toLowerCase();
    });
  }

  function search() {
    if (texts === null) { index(); }
    var words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
    var number = 0;
    entries.forEach(function (entry, place) {
      var here = words.every(function (word) { return texts[place].indexOf(word) >= 0; });
      entry.classList.toggle("gone", !here);
      number += here ? 1 : 0;
    });
    document.querySelectorAll(".group, section").forEach(function (group) {
      group.classList.toggle("gone", group.querySelector("details.entry:not(.gone)") === null);
    });
    document.querySelectorAll(".jump").forEach(function (jump) {
      jump.classList.toggle("gone", words.length > 0);
    });
    found.textContent = words.length === 0 ? "" : number === 1 ? "1 entry" : number + " entries";
  }

  function show() {
    var id = decodeURIComponent(location.hash.slice(1));
    var target = id === "" ? null : document.getElementById(id);
    if (target === null) { return; }
    if (target.closest(".gone") !== null) { input.value = ""; search(); }
    for (var at = target; at !== null; at = at.parentElement) {
      if (at.tagName.toLowerCase() === "details") { at.open = true; }
    }
    target.scrollIntoView({ block: "start", inline: "center" });
  }

  function bring(entry) {
    var picture = entry.querySelector(".picture");
    if (picture !== null && picture.querySelector(":target") === null) {
      picture.scrollLeft = Number(picture.dataset.start) - picture.clientWidth / 2;
    }
  }

  form.hidden = false;
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  input.addEventListener("input", search);
  entries.forEach(function (entry) {
    entry.addEventListener("toggle", function () { if (entry.open) { bring(entry); } }, { once: true });
  });
  window.addEventListener("hashchange", show);
  show();
}());
