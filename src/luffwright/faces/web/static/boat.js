// A boat whose ropes are dragged: knots on the drawings, steps beside them, the newest place wins.
import { localise, on, onReturn, wish } from "./base.js";

const SVG = "http://www.w3.org/2000/svg";
const $ = (id) => document.getElementById(id);
const make = (name, attributes, parent) => {
  const it = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) it.setAttribute(key, value);
  parent?.append(it);
  return it;
};
const phone = matchMedia("(max-width: 59.99rem)");
const ALL = ["cuts", "deck", "side", "helm", "boom"];

export class Boat {
  /** `asked()`: the case to send; `only`: controls that may move, all if null; `hides`: no cost told. */
  constructor({ asked, only = null, lesson = null, told = () => {}, changed = () => {} }) {
    Object.assign(this, { asked, only, lesson, told, changed });
    this.controls = {}; this.state = null; this.held = null; this.newest = 0; this.sent = 0; this.inFlight = false;
    this.shown = "deck"; this.grips = {}; this.timing = [];
    document.querySelectorAll("[data-show]").forEach((it) => it.addEventListener("click", () => this.show(it.dataset.show)));
    on("look", (state) => this.draw(state));
    onReturn(() => this.look(true));
    phone.addEventListener("change", () => this.look(true));
    this.show(this.shown);
  }

  views() {
    // Deck and mast always: their holds are what can be stepped.
    return phone.matches ? [...new Set(["cuts", "deck", "side", this.shown])] : ALL;
  }

  /** While a hand drags, only what it needs to see is drawn. */
  draggedViews() { return phone.matches ? ["cuts", this.shown] : ["cuts", this.shown === "side" ? "side" : "deck"]; }

  show(name) {
    this.shown = name;
    document.querySelectorAll("[data-show]").forEach((it) => it.setAttribute("aria-pressed", String(it.dataset.show === name)));
    document.querySelectorAll(".drawings .drawing").forEach((it) => it.classList.toggle("chosen", it.dataset.view === name));
    if (this.state && phone.matches) this.look(true);
  }

  /** Ask to see the boat as she is set; `rest` when no hand is on a rope. */
  async look(rest, all = false) {
    this.wanted = { rest, at: performance.now(), all };
    if (this.sending) return;
    this.sending = true;
    while (this.wanted) {
      const { rest: now, at, all: every } = this.wanted;
      this.wanted = null;
      const number = await wish("look", { case: this.asked(), controls: this.controls, rest: now, ...(this.lesson ? { lesson: this.lesson } : {}), views: every ? ALL : now ? this.views() : this.draggedViews() });
      this.newest = number; this.timing[number % 64] = at;
    }
    this.sending = false;
  }

  draw(state) {
    this.state = state;
    this.fault("");
    for (const [view, text] of Object.entries(state.svg)) {
      const ink = document.querySelector(`.drawing[data-view="${view}"] .ink`);
      if (!ink) continue;
      ink.innerHTML = text;
      ink.style.setProperty("--lag", `-${(performance.now() / 1000) % 4}s`);
      localise(ink);
    }
    // An answer to an older place must not undo the steps taken since.
    const latest = !this.sending && !this.wanted && state.number >= this.newest;
    for (const [name, it] of Object.entries(state.controls))
      if (!(name in this.controls) || (latest && name !== this.held?.control)) this.controls[name] = it.value;
    for (const [view, grips] of Object.entries(state.grips)) this.knots(view, grips);
    this.steps();
    this.figures();
    document.body.dataset.settled = String(state.settled);
    document.body.dataset.number = state.number;
    document.body.dataset.took = String(Math.round(performance.now() - (this.timing[state.number % 64] ?? performance.now())));
    this.told(state);
    if (state.rest) this.changed(this.controls);
    if (this.printing && ALL.every((it) => it in state.svg)) { this.printing = false; print(); }
  }

  /** Print with every drawing, of which a phone has asked for only some. */
  print() { this.printing = true; this.look(true, true); }

  figures() {
    const { numbers, cost, calls } = this.state;
    $("speed").textContent = `${numbers.speed_kn.toFixed(1)} kn`;
    $("heel").textContent = `${numbers.heel_deg.toFixed(0)}°`;
    $("helm").textContent = numbers.helm;
    if ($("cost-short")) { $("cost-short").textContent = cost.short; $("cost-words").textContent = cost.words; }
    if ($("reef")) { $("reef").hidden = calls.length === 0; $("reef").textContent = calls[0] ?? ""; }
    this.usual ??= $("mind")?.textContent;
    if ($("mind")) $("mind").textContent = this.state.warning || this.usual;
    for (const it of ["figures", "reef", "mind"]) if ($(it)) localise($(it));
  }

  fault(text) { if ($("fault")) $("fault").textContent = text; }

  // ------------------------------------------------------------------------------------- knots

  knots(view, grips) {
    const layer = document.querySelector(`.drawing[data-view="${view}"] .grips`);
    if (!layer) return;
    for (const grip of grips) {
      if (this.only && !this.only.includes(grip.control)) continue;
      const key = `${view}/${grip.control}`;
      const knot = this.grips[key] ?? (this.grips[key] = this.knot(layer, grip));
      knot.grip = grip;
      if (this.held?.key !== key) place(knot, grip.x, grip.y);
      label(knot.group, grip);
    }
  }

  knot(layer, grip) {
    const group = make("g", { class: "knot", role: "slider", tabindex: "0", "data-control": grip.control }, layer);
    make("circle", { r: 27, class: "reach" }, group);
    const steep = Math.abs(grip.uy) > Math.abs(grip.ux);
    make("path", { class: "ways", d: steep ? "M-6 -16L0 -23L6 -16M-6 16L0 23L6 16" : "M-16 -6L-23 0L-16 6M16 -6L23 0L16 6" }, group);
    make("circle", { r: 12, class: "ball" }, group);
    const knot = { group, grip, key: `${layer.parentElement.dataset.view}/${grip.control}`, control: grip.control };
    group.addEventListener("pointerdown", (event) => this.take(event, knot, layer));
    group.addEventListener("keydown", (event) => this.key(event, knot.grip, steep));
    return knot;
  }

  take(event, knot, layer) {
    event.preventDefault();
    knot.group.focus();
    knot.group.setPointerCapture(event.pointerId);
    const scale = 390 / layer.getBoundingClientRect().width;
    const { grip } = knot, gain = grip.ux ** 2 + grip.uy ** 2;
    const start = { x: event.clientX, y: event.clientY, at: [grip.x, grip.y], value: this.controls[grip.control] };
    this.held = knot;
    this.moved = true;
    const move = (to) => {
      const along = ((to.clientX - start.x) * grip.ux + (to.clientY - start.y) * grip.uy) * scale / gain;
      const value = bounded(start.value + along, grip);
      const off = value - start.value;
      place(knot, start.at[0] + off * grip.ux, start.at[1] + off * grip.uy);
      if (value === this.controls[grip.control]) return;
      this.controls[grip.control] = value;
      this.look(false);
    };
    const end = () => {
      knot.group.removeEventListener("pointermove", move);
      knot.group.removeEventListener("pointerup", end);
      knot.group.removeEventListener("pointercancel", end);
      this.held = null;
      this.look(true);
    };
    knot.group.addEventListener("pointermove", move);
    knot.group.addEventListener("pointerup", end);
    knot.group.addEventListener("pointercancel", end);
  }

  key(event, grip, steep) {
    const forward = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const sign = forward ? Math.sign(forward[0] * grip.ux + forward[1] * grip.uy) || (steep ? forward[0] : -forward[1]) : { PageUp: 5, PageDown: -5 }[event.key];
    if (!sign) return;
    event.preventDefault();
    this.step(grip.control, sign);
  }

  /** Move a control by steps, as a crew counts them. */
  step(control, steps) {
    const grip = Object.values(this.grips).find((it) => it.control === control)?.grip;
    if (!grip) return;
    this.moved = true;
    this.controls[control] = bounded(this.controls[control] + steps * grip.step, grip);
    this.look(true);
  }

  steps() {
    const list = $("steppers");
    if (!list || !this.state) return;
    const all = {};
    for (const { grip } of Object.values(this.grips)) all[grip.control] = grip;
    for (const grip of Object.values(all)) {
      if (this.only && !this.only.includes(grip.control)) continue;
      let row = list.querySelector(`[data-control="${grip.control}"]`);
      if (!row) {
        row = document.createElement("li");
        row.dataset.control = grip.control;
        row.append(button(grip.less, grip.rope, () => this.step(grip.control, -1)));
        const text = document.createElement("span");
        text.append(document.createElement("b"), document.createElement("span"));
        row.append(text, button(grip.more, grip.rope, () => this.step(grip.control, 1)));
        list.append(row);
      }
      row.querySelector("b").textContent = grip.rope;
      row.querySelector("span > span").textContent = this.state.controls[grip.control]?.mark ?? "";
    }
    if (this.held) $("held").textContent = `${this.held.grip.rope}: ${this.state.controls[this.held.control]?.mark}`;
  }
}

/** A step, by the verb that the crew would call out. */
function button(verb, rope, then) {
  const it = document.createElement("button");
  it.type = "button"; it.textContent = verb; it.setAttribute("aria-label", `${rope}: ${verb}, one step`);
  it.addEventListener("click", then);
  return it;
}
function place(knot, x, y) { knot.group.setAttribute("transform", `translate(${x} ${y})`); }
function label(group, grip) {
  const set = { "aria-label": grip.rope, "aria-valuemin": grip.low, "aria-valuemax": grip.high, "aria-valuenow": grip.value, "aria-valuetext": grip.mark };
  for (const [key, value] of Object.entries(set)) group.setAttribute(key, value);
}
function bounded(value, grip) {
  const steps = Math.round((value - grip.low) / grip.step);
  const on = grip.low + steps * grip.step;
  return Math.min(Math.max(Number(on.toFixed(6)), grip.low), grip.high);
}
