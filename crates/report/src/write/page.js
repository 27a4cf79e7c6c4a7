"use strict";
(function () {
  const key = "ticks:" + document.body.dataset.key;
  const boxes = Array.from(document.querySelectorAll("[data-tick]"));
  const said = document.getElementById("kept");
  const printed = {};
  boxes.forEach(function (box) { printed[box.dataset.tick] = box.checked; });
  // some browsers refuse, some forget at once: only what comes back is kept
  const keeps = (function () {
    try {
      const probe = key + ":probe";
      localStorage.setItem(probe, "1");
      const back = localStorage.getItem(probe) === "1";
      localStorage.removeItem(probe);
      return back;
    } catch (refused) { return false; }
  })();
  function changed() {
    const out = {};
    boxes.forEach(function (box) {
      if (box.checked !== printed[box.dataset.tick]) { out[box.dataset.tick] = box.checked; }
    });
    return out;
  }
  function show(ticks) {
    boxes.forEach(function (box) {
      const kept = ticks[box.dataset.tick];
      if (typeof kept === "boolean") { box.checked = kept; }
    });
  }
  function tell(more) {
    const n = boxes.filter(function (box) { return box.checked; }).length;
    const kept = keeps
      ? "What you tick stays ticked in this browser."
      : "This browser keeps nothing for this page: save the ticks to a file before you close it.";
    said.textContent = n + " of " + boxes.length + " ticked. " + kept + (more ? " " + more : "");
  }
  function keep() {
    if (keeps) { try { localStorage.setItem(key, JSON.stringify(changed())); } catch (full) { tell("The browser has no room left."); return; } }
    tell();
  }
  if (keeps) {
    try { show(JSON.parse(localStorage.getItem(key) || "{}") || {}); } catch (spoilt) { localStorage.removeItem(key); }
  }
  boxes.forEach(function (box) { box.addEventListener("change", keep); });
  document.getElementById("save").addEventListener("click", function () {
    const ticks = {};
    boxes.forEach(function (box) { ticks[box.dataset.tick] = box.checked; });
    const text = JSON.stringify({ of: document.body.dataset.key, ticks: ticks }, null, 1);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = document.title.replace(/[^A-Za-z0-9]+/g, "-").toLowerCase() + "-ticks.json";
    link.click();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
  });
  document.getElementById("read").addEventListener("change", function (event) {
    const file = event.target.files[0];
    if (!file) { return; }
    file.text().then(function (text) {
      const read = JSON.parse(text);
      if (!read || typeof read.ticks !== "object" || read.of !== document.body.dataset.key) {
        tell("That file holds ticks of another list; nothing was taken.");
        return;
      }
      show(read.ticks);
      keep();
    }).catch(function () { tell("That file cannot be read as ticks; nothing was taken."); });
    event.target.value = "";
  });
  tell();
})();
