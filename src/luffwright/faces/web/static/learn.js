// Learn: predict first, then drag, then read what the mechanics say.
import { listen, on } from "./base.js";
import { Boat } from "./boat.js";

const $ = (id) => document.getElementById(id);
const lesson = JSON.parse($("lesson").dataset.lesson);
const SIDE = ["halyard", "backstay", "reef", "furl"];
let guess = null, start = null, direction = null;

const boat = new Boat({
  asked: () => ({ boat: "marram", wind_kn: lesson.wind_kn, angle_deg: 45 }),
  only: [lesson.control], lesson: lesson.key, told,
});
boat.show(SIDE.includes(lesson.control) ? "side" : "deck");
$("cost").hidden = document.querySelector(".compared").hidden = true;

document.querySelectorAll('input[name="guess"]').forEach((it) => it.addEventListener("change", () => {
  guess = it.value;
  $("see").classList.remove("waits");
  $("verdict").textContent = `You expect: ${guess}. Now drag it and let go.`;
  $("see").scrollIntoView({ block: "start" });
}));

function told(state) {
  const now = { measure: state.measure, value: state.controls[lesson.control].value };
  start ??= now;
  if (guess === null || !state.rest || now.value === start.value) return;
  direction = Math.sign(now.value - start.value);
  const change = now.measure - start.measure, grown = change * direction;
  const seen = Math.abs(change) < lesson.least ? lesson.choices[2] : lesson.choices[grown > 0 ? 0 : 1];
  const figures = `${start.measure.toFixed(1)} → ${now.measure.toFixed(1)}${lesson.unit.startsWith("°") ? "" : " "}${lesson.unit}`;
  const other = direction < 0 ? " (you moved it the other way round: read it backwards)" : "";
  const small = Math.abs(change) < lesson.least ? " Move it further to see more." : "";
  $("verdict").textContent = `${seen === guess ? "As you said" : "Not as you said"}: ${seen}, ${figures}${other}.${small}`;
  $("verdict").dataset.right = String(seen === guess);
}
on("refused", (it) => boat.fault(it.text));
listen();
boat.look(true);
