// Fix: what the tufts do goes out, one sentence comes back; done, look again goes on with the case.
import { allNumbers, asCase, clockTime, kept, listen, localise, on, onReturn, preferences, remember, remembered, summary, wish } from "./base.js";

const $ = (id) => document.getElementById(id);
if (!kept.form.boat) kept.form.boat = $("boat").value;
$("case-line").textContent = summary();
const WORDS = { "?": "?", streaming: "streams", lifting: "lifts", stalled: "hangs", wavering: "wavers" };
const SIDES = preferences.words === "windward" ? { windward: "windward", leeward: "leeward" } : { windward: "inside", leeward: "outside" };
const GAUGES = ["heel_deg", "speed_kn"];
let looks = [], moved = {}, turned = 0, move = null, waiting = null, clock = 0, shown = 0, last = null;

function set(button, state) {
  button.dataset.state = state;
  button.querySelector("b").textContent = WORDS[state];
  button.setAttribute("aria-label", `${button.dataset.sail.replace("_", " ")} ${button.dataset.level} ${SIDES[button.dataset.side] ?? "leech"} tuft: ${state === "?" ? "not looked" : WORDS[state]}`);
}
const taps = [...document.querySelectorAll(".tap")];
taps.forEach((button) => {
  set(button, "?");
  button.addEventListener("click", () => {
    shown = 0;
    const ways = ["?", "streaming", button.dataset.bad, ...(button.dataset.side ? ["wavering"] : [])];
    set(button, ways[(ways.indexOf(button.dataset.state) + 1) % ways.length]);
    hold();
  });
});

/** Keep the case as it stands, so that a reload loses no tap of a cold finger. */
function hold() {
  const tapped = taps.map((it) => it.dataset.state), read = [...GAUGES, "helm"].map((name) => $(name).value);
  remember("fix", { tapped, read, looks, moved, turned, waiting, last, controls: JSON.stringify(kept.controls) });
}
[...GAUGES, "helm"].forEach((name) => $(name).addEventListener("change", hold));

/** What was seen and read belongs to one look: the next one begins with nothing. */
function blank() {
  taps.forEach((it) => set(it, "?"));
  for (const name of GAUGES) $(name).value = "";
  $("helm").value = "?";
}

function look() {
  const seen = {};
  for (const it of taps) {
    if (it.dataset.state === "?") continue;
    const sail = (seen[it.dataset.sail] ??= {});
    if (it.dataset.side) (sail[it.dataset.level] ??= {})[it.dataset.side] = it.dataset.state;
    else sail[it.dataset.level] = it.dataset.state;
  }
  if ($("helm").value !== "?") seen.helm = $("helm").value;
  for (const name of GAUGES) {
    const read = $(name).value.trim(), value = Number(read.replace(",", "."));
    if (read && Number.isFinite(value)) seen[name] = value;
  }
  if (Object.keys(moved).length) seen.moved = moved;
  if (turned) seen.turned_deg = turned;
  return seen;
}

function say(text, kind) {
  const it = document.createElement("p");
  it.className = kind; it.textContent = text;
  return it;
}

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** The move large, and smaller from where to where, what goes with it, and until when. */
function told(sentence) {
  const found = /^(.*?)(?: \((.* → .*?)\))?( with the sheet .*?)?(?:, (until .*))?$/.exec(sentence);
  if (!found) return [say(sentence, "deck first")];
  const [, what, places, sheet, until] = found;
  return [say(`${what}${sheet ?? ""}`, "deck first"), ...(until ? [say(capital(until), "more")] : []), ...(places ? [say(places, "quiet")] : [])];
}

$("ask").addEventListener("click", () => {
  shown = 0;
  $("fault").textContent = "";
  if (!allNumbers(document)) return;
  const seen = look();
  if (Object.keys(seen).filter((it) => it !== "moved" && it !== "turned_deg").length === 0) { $("fault").textContent = "Nothing is tapped yet: one pair of tufts is enough."; return; }
  send({ case: asCase(), controls: kept.controls, seen: [...looks, seen] });
});

function send(asked) {
  waiting = asked;
  hold();
  const began = performance.now();
  clearInterval(clock);
  const note = () => $("told").replaceChildren(say(`Asking the boat … ${Math.round((performance.now() - began) / 1000)} s. The first time in a wind takes a minute.`, "busy"));
  clock = setInterval(note, 1000); note();
  $("done-row").hidden = true;
  wish("fix", waiting);
}

/** A word that is read from afar, and what goes with it. */
function headed(word, rest) {
  const part = say(` ${rest}`, "leave"), head = document.createElement("strong");
  head.textContent = word;
  part.prepend(head);
  return part;
}

const UNLOAD = {
  lead: "Mind: unload the sheet before you move it.",
  clew_hole: "Mind: furl or drop the sail and unload the sheet before you move it.",
};
const led = (it) => UNLOAD[it?.control];

function show(answer) {
  last = answer;
  move = answer.moves[0] ?? null;
  const parts = answer.cautions.filter((it) => it.text.startsWith("Reef: ")).map((it) => say(capital(it.text.slice(6)), "reef"));
  const reef = parts.length > 0;
  // A doubt goes ahead of the move in one line; what else is said can wait until that is read.
  const [doubts, others] = [true, false].map((is) => answer.says.filter((it) => it.startsWith("First look again") === is));
  const halves = doubts.map((it) => /^(.*?\.) (.*)$/s.exec(it) ?? [it, it, ""]);
  parts.push(...halves.map((it) => say(it[1], "look-first")));
  if (answer.nothing_wrong) {
    parts.push(headed("LEAVE IT", "Nothing that you saw calls for a change."));
    parts.push(...answer.moves.slice(0, 2).map((it, k) => say(`${k ? "Or" : "With hands to spare"}: ${it.sentence}`, "else")));
    if (led(move)) parts.push(say(led(move), "mind"));
  } else if (!move) {
    // A called reef has said it all.
    if (!reef) parts.push(headed("LOOK AGAIN", "before you move anything."));
  } else {
    if (led(move)) parts.push(say(led(move), "mind"));
    parts.push(...told(move.sentence), say(`Then: ${move.then_see}`, "then-see"), say(capital(move.why), "quiet"));
    for (const it of answer.moves.slice(1, 3)) parts.push(say(`Else: ${it.sentence}`, "else"));
  }
  parts.push(...[...halves.map((it) => it[2]), ...others].filter(Boolean).map((it) => say(it, "quiet")));
  parts.push(...answer.cautions.filter((it) => !it.text.startsWith("Reef: ")).map((it) => say(it.text, "cautions quiet")));
  $("told").replaceChildren(...parts);
  $("done-row").hidden = !move;
}

on("fix", (answer) => {
  clearInterval(clock);
  looks = waiting?.seen ?? looks; waiting = null; moved = {}; turned = 0;
  shown = answer.number;
  show(answer);
  if (answer.flies_on) $("told").append(say("A first answer. The boat is flown on: it may change within a minute or two.", "flies-on quiet"));
  localise($("told"));
  hold();
  $("told").scrollIntoView({ block: "start" });
});
on("surer", (answer) => {
  // Whoever has moved a rope or taps anew is left alone: the next answer knows all that is flown.
  if (!answer.moves || answer.number !== shown) return;
  const before = move?.sentence;
  show(answer);
  const same = before === move?.sentence;
  $("told").prepend(say(same ? "Flown on: the answer stands." : "Flown on: this is surer than the first answer.", "flies-on quiet"));
  localise($("told"));
  hold();
});
on("refused", (told) => {
  if (told.kind === "surer") return;
  clearInterval(clock); waiting = null;
  hold();
  $("told").replaceChildren(say(told.text, "call"));
});
onReturn(() => { if (waiting) wish("fix", waiting); });

$("done").addEventListener("click", () => {
  shown = 0; last = null;
  if (move) moved = { [move.control]: move.to, ...(move.sheet_to !== null && move.sheet_to !== undefined ? { sheet: move.sheet_to } : {}) };
  if (move?.control === "course") { turned = move.to; delete moved.course; }
  blank();
  $("done-row").hidden = true;
  $("told").replaceChildren(say(move ? `Done: ${move.sentence}` : "", "quiet"), say("Now look again and tap what you see.", "deck"));
  hold();
  scrollTo(0, 0);
});
$("anew").addEventListener("click", () => {
  clearInterval(clock);
  shown = 0;
  looks = []; moved = {}; turned = 0; move = null; last = null; waiting = null;
  blank();
  $("told").replaceChildren(say("A new case. Tap what you see.", "quiet"));
  $("done-row").hidden = true;
  hold();
});
$("print").addEventListener("click", () => print());
listen();

const stored = remembered("fix"), before = stored?.value;
// Ropes moved elsewhere since then make another case.
if (before?.controls === JSON.stringify(kept.controls)) {
  ({ looks, moved, turned } = before);
  taps.forEach((it, k) => set(it, before.tapped[k]));
  [...GAUGES, "helm"].forEach((name, k) => { $(name).value = before.read[k]; });
  if (before.waiting) send(before.waiting);
  else if (before.last) { show(before.last); localise($("told")); $("told").prepend(say(`As told at ${clockTime(stored.when)}.`, "quiet")); }
  else if (looks.length) $("told").replaceChildren(say("Now look again and tap what you see.", "deck"));
}
