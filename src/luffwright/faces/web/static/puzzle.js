// Put it right: only tufts, heel and helm are shown; what it cost is told after.
import { listen, on, onReturn, wish } from "./base.js";
import { Boat } from "./boat.js";

const $ = (id) => document.getElementById(id);
const asked = () => ({ boat: "marram", wind_kn: 12, angle_deg: "upwind" });
let seed = Math.floor(Math.random() * 1e6), first = null, ended = false, tries = 0;

const boat = new Boat({ asked, told });
function told(state) {
  if (first === null && state.rest && state.cost.minutes !== null) {
    first = state.cost;
    $("verdict").textContent = "Something is wrong. What do the tufts say?";
    $("done").disabled = $("another").disabled = false;
  }
}
function begin() {
  first = null; ended = false;
  $("see").classList.add("hides");
  $("done").disabled = $("another").disabled = true;
  wish("search", { case: asked(), controls: {}, spoil: seed });
}
// Sought again after the server was away, her best trim must not undo what was moved since.
on("search", (found) => { if (first === null) boat.controls = { ...found.spoiled }; boat.look(true); });
onReturn(() => wish("search", { case: asked(), controls: {}, spoil: seed }));
on("refused", (it) => {
  if (first === null && ++tries < 6) { seed += 1; begin(); return; }
  boat.fault(it.text);
});
$("done").addEventListener("click", () => {
  ended = true;
  $("see").classList.remove("hides");
  const now = boat.state.cost;
  const less = Math.abs(now.minutes) < 0.25 ? "as good as the best trim" : `${now.short} an hour`;
  $("verdict").textContent = `She was set wrong: ${first.short} an hour. As you left her: ${less}. Dashed: the best trim.`;
  $("verdict").scrollIntoView({ block: "start" });
});
$("another").addEventListener("click", () => { seed += 1; tries = 0; $("verdict").textContent = "Spoiling her again …"; begin(); });
listen();
begin();
