// Set: what the crew knows goes out, deck sentences come back.
import { asCase, caseForm, clockTime, keep, kept, listen, localise, on, onReturn, remember, remembered, summary, wish } from "./base.js";

const answer = document.getElementById("answer"), after = document.getElementById("after");
const fault = document.getElementById("fault"), change = document.getElementById("change");
const stands = document.getElementById("stands"), standsField = document.getElementById("stands-field");
let waiting = null, began = 0, clock = 0;

function ask() {
  fault.textContent = "";
  const changes = stands.checked && Object.keys(kept.controls).length > 0;
  send({ case: asCase(), controls: changes ? kept.controls : {}, changes });
}

function send(asked) {
  waiting = asked;
  remember("set", { waiting });
  answer.setAttribute("aria-busy", "true");
  after.hidden = true;
  began = performance.now();
  const note = () => {
    const seconds = Math.round((performance.now() - began) / 1000);
    const long = seconds > 14 ? " In strong wind every reef is tried: up to a minute." : "";
    answer.replaceChildren(paragraph(`Trying settings … ${seconds} s.${long}`, "busy"));
  };
  clearInterval(clock); clock = setInterval(note, 1000); note();
  folded(true);
  wish("search", waiting);
}

function paragraph(text, kind) {
  const it = document.createElement("p");
  it.className = kind; it.textContent = text;
  return it;
}

function folded(is) {
  document.body.classList.toggle("folded", is);
  change.hidden = !is;
  change.textContent = summary();
}

function show(told) {
  answer.removeAttribute("aria-busy");
  // The server's own sentences, escaped there.
  answer.innerHTML = told.html;
  localise(answer);
  after.hidden = told.failed;
}

on("search", (told) => {
  clearInterval(clock); waiting = null;
  show(told);
  remember("set", { html: told.html, failed: told.failed });
  if (!told.failed) { kept.controls = told.controls; kept.before = summary(); keep(); }
  showStands();
  change.scrollIntoView({ block: "start" });
});
on("refused", (told) => {
  clearInterval(clock); waiting = null;
  remember("set", {});
  answer.removeAttribute("aria-busy");
  answer.replaceChildren(paragraph("Nothing is set yet.", "quiet"));
  fault.textContent = told.text;
  folded(false);
});
onReturn(() => { if (waiting) wish("search", waiting); });

function showStands() {
  const has = kept.before !== null && Object.keys(kept.controls).length > 0;
  standsField.hidden = !has;
  document.getElementById("before").textContent = has ? kept.before : "";
}

change.addEventListener("click", () => { folded(false); document.getElementById("boat").focus(); });
document.getElementById("again").addEventListener("click", () => {
  showStands(); stands.checked = true; folded(false);
  scrollTo(0, 0);
});
document.getElementById("print").addEventListener("click", () => print());
caseForm(ask);
document.getElementById("case").addEventListener("change", () => { if (kept.before === null) showStands(); });
showStands();
listen();

const before = remembered("set");
if (before?.value.waiting) send(before.value.waiting);
if (before?.value.html) {
  show(before.value);
  answer.prepend(paragraph(`As told at ${clockTime(before.when)}.`, "quiet"));
  folded(true);
}
