// See: the ropes are dragged, the best trim stands dashed beside.
import { asCase, keep, kept, listen, on, onReturn, summary, wish } from "./base.js";
import { Boat } from "./boat.js";

if (!kept.form.boat) kept.form.boat = document.getElementById("boat").value;
document.getElementById("case-line").textContent = summary();
const start = { ...kept.controls };
const boat = new Boat({
  asked: () => asCase(),
  changed: (controls) => { kept.controls = { ...controls }; kept.before = summary(); keep(); },
});
boat.controls = { ...kept.controls };
let best = null;
on("search", (told) => {
  if (told.failed) return;
  best = told.controls;
  if (Object.keys(start).length === 0 && !boat.moved) boat.controls = { ...best };
  boat.look(true);
});
on("refused", (told) => { boat.fault(told.text); if (told.kind === "look") boat.controls = Object.fromEntries(Object.entries(boat.state?.controls ?? {}).map(([name, it]) => [name, it.value])); });
document.getElementById("best").addEventListener("click", () => { if (best) { boat.controls = { ...best }; boat.look(true); } });
document.getElementById("back").addEventListener("click", () => { boat.controls = { ...start }; boat.look(true); });
document.getElementById("print").addEventListener("click", () => boat.print());
const search = () => wish("search", { case: asCase(), controls: {}, changes: false });
// A server started again has forgotten the best trim.
onReturn(search);
listen();
boat.look(true);
search();
