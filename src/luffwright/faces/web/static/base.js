// What all places share: the case kept on this device, wishes sent, answers heard, units, night.

const CASE = "case", PREFERENCES = "preferences";
const FIRST = { wind: "true", boat: "", true_wind: "12", apparent_wind: "16", apparent_angle: "30",
  course: "close-hauled", angle: "60", force: "4", force_course: "close-hauled", sea: "slight",
  gust: "", tack: "starboard", steered_by: "hand", aim: "fast" };

const stored = (key, first) => {
  try { return { ...first, ...JSON.parse(localStorage.getItem(key) || "{}") }; } catch { return { ...first }; }
};
const store = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); } catch { /* private window */ } };

/** What the crew knows, and where the ropes stand: {form, controls, before}. */
export const kept = stored(CASE, { form: FIRST, controls: {}, before: null });
kept.form = { ...FIRST, ...kept.form };
export const keep = () => store(CASE, kept);
export const preferences = stored(PREFERENCES, { units: "kn", lengths: "m", words: "inside" });

// What was told, or asked, outlives a reload, a look at another place and a locked phone: for the same
// case and program, while the wind may still be the same.
const HOURS_KEPT = 12;
export const remember = (name, value) => store(name, { version: document.body.dataset.version, when: Date.now(), form: kept.form, value });
export function remembered(name) {
  const it = stored(name, {});
  const fresh = Date.now() - it.when < HOURS_KEPT * 3600e3 && it.version === document.body.dataset.version;
  return fresh && JSON.stringify(it.form) === JSON.stringify(kept.form) ? it : null;
}
export const clockTime = (when) => new Date(when).toTimeString().slice(0, 5);

const MS = 0.514444, FT = 0.3048;
const number = (text) => {
  const value = Number(String(text).trim().replace(",", "."));
  return String(text).trim() === "" || !Number.isFinite(value) ? null : value;
};
const knots = (text) => { const it = number(text); return it === null ? null : preferences.units === "ms" ? it / MS : it; };

/** The fields of a request that the form means. */
export function asCase(form = kept.form) {
  const out = { boat: form.boat, sea: form.sea, steered_by: form.steered_by, aim: form.aim };
  const side = form.tack === "port" ? -1 : 1;
  if (form.wind === "apparent") {
    out.apparent_wind_kn = knots(form.apparent_wind);
    const angle = number(form.apparent_angle);
    out.apparent_angle_deg = angle === null ? null : side * Math.abs(angle);
  } else if (form.wind === "force") {
    out.beaufort = number(form.force);
    aimed(out, form.force_course, side, form);
  } else {
    out.wind_kn = knots(form.true_wind);
    aimed(out, form.course, side, form);
  }
  const gust = knots(form.gust);
  if (gust !== null) out.gust_kn = gust;
  return out;
}

function aimed(out, course, side, form) {
  if (course === "angle") { const angle = number(form.angle); out.angle_deg = angle === null ? null : side * Math.abs(angle); }
  else if (course === "close-hauled") { out.angle_deg = "upwind"; out.tack = form.tack; }
  else if (course === "downwind") { out.angle_deg = "downwind"; out.tack = form.tack; }
  else out.angle_deg = side * { "close reach": 60, "beam reach": 90, "broad reach": 135 }[course];
}

/** The case in one line. */
export function summary(form = kept.form) {
  const unit = preferences.units === "ms" ? "m/s" : "kn";
  const wind = form.wind === "apparent" ? `${form.apparent_wind} ${unit} apparent at ${form.apparent_angle}°`
    : form.wind === "force" ? `Force ${form.force}, ${form.force_course}`
    : `${form.true_wind} ${unit} true, ${form.course === "angle" ? `at ${form.angle}°` : form.course}`;
  const boat = document.querySelector(`#boat option[value="${CSS.escape(form.boat)}"]`)?.textContent ?? form.boat;
  return `${boat} · ${wind} · ${form.sea} sea · wind from ${form.tack}`;
}

// ---------------------------------------------------------------------------- wishes and answers

const page = Array.from(crypto.getRandomValues(new Uint8Array(8)), (it) => it.toString(16).padStart(2, "0")).join("");
let count = 0, events = null, wasLost = false;
const heard = {}, back = [];

export const on = (name, then) => { heard[name] = then; };
/** Called when the server is there again after it was lost. */
export const onReturn = (then) => { back.push(then); };

function lost(is) {
  const note = document.getElementById("lost");
  if (note) note.hidden = !is;
  wasLost = is || wasLost;
}

export function listen() {
  events = new EventSource(`/events/${page}`);
  events.addEventListener("hello", () => {
    lost(false);
    if (wasLost) { wasLost = false; back.forEach((it) => it()); }
  });
  events.onerror = () => {
    lost(true);
    // A browser gives up for good where the server answers badly; we do not.
    if (events.readyState === EventSource.CLOSED) setTimeout(listen, 1000);
  };
  for (const name of ["look", "search", "fix", "surer", "lesson", "refused"])
    events.addEventListener(name, (event) => heard[name]?.(JSON.parse(event.data)));
}
addEventListener("pagehide", () => events?.close());
addEventListener("pageshow", (event) => { if (event.persisted) listen(); });

/** Send a wish; its answer comes as an event with the number returned. */
export async function wish(work, body) {
  const mine = ++count;
  try {
    const answer = await fetch(`/do/${work}`, {
      method: "POST", headers: { "content-type": "application/json" },
      body: JSON.stringify({ page, number: mine, ...body }),
    });
    if (answer.status === 401) location.href = "/pair";
    if (answer.status === 422) heard.refused?.({ kind: work, number: mine, ...(await answer.json()) });
    else if (!answer.ok) heard.refused?.({ kind: work, number: mine, text: await answer.text() });
  } catch { lost(true); }
  return mine;
}

// ------------------------------------------------------------------------------ units and words

const round = (value, digits) => value.toFixed(digits);
const SPEED = /(\d+(?:\.\d+)?) kn\b/g, HEIGHT = /(\d+(?:\.\d+)?) m(?= up\b| of waves|\)|$)/g;
function reworded(text) {
  let out = text;
  if (preferences.units === "ms")
    out = out.replace(SPEED, (_, it) => `${round(Number(it) * MS, it.includes(".") ? it.split(".")[1].length : 1)} m/s`);
  if (preferences.lengths === "ft") out = out.replace(HEIGHT, (_, it) => `${round(Number(it) / FT, 0)} ft`);
  if (preferences.words === "windward")
    out = out.replace(/\b([Ii]n|[Oo]ut)side (tufts?)/g, (_, it, tuft) => `${{ in: "windward", In: "Windward", out: "leeward", Out: "Leeward" }[it]} ${tuft}`);
  return out;
}

/** Put the texts under a place into this device's units and words. */
export function localise(root) {
  if (preferences.units === "kn" && preferences.lengths === "m" && preferences.words === "inside") return;
  if (preferences.words === "windward")
    root.querySelectorAll(".tap i").forEach((it) => { it.textContent = { inside: "windward", outside: "leeward" }[it.textContent] ?? it.textContent; });
  const walk = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const text = reworded(node.data);
    if (text !== node.data) node.data = text;
  }
}

// ---------------------------------------------------------------------------------- night, form

function night(is) {
  document.documentElement.dataset.night = is ? "on" : "off";
  document.getElementById("night")?.setAttribute("aria-pressed", String(is));
  try { localStorage.setItem("night", is ? "on" : "off"); } catch { /* private window */ }
}
const nightButton = document.getElementById("night");
nightButton?.addEventListener("click", () => night(document.documentElement.dataset.night !== "on"));
nightButton?.setAttribute("aria-pressed", String(document.documentElement.dataset.night === "on"));
for (const place of document.querySelectorAll("main")) localise(place);

function showUnits() {
  document.querySelectorAll(".speed-unit").forEach((it) => { it.textContent = preferences.units === "ms" ? "m/s" : "kn"; });
  document.querySelectorAll("#sea option").forEach((it) => {
    const height = Number(it.dataset.m);
    it.textContent = `${it.value}, ${preferences.lengths === "ft" ? `${round(height / FT, 1)} ft` : `${height} m`}`;
  });
}

/** The winds of the form in the new unit: what blows stays what it is, there and back again. */
function retold(form, unit) {
  const ratio = unit === preferences.units ? 1 : unit === "ms" ? MS : 1 / MS;
  for (const name of ["true_wind", "apparent_wind", "gust"]) {
    const wind = number(form.elements[name].value);
    // Into the field, too: the form is read once more before the page is loaded anew.
    if (wind !== null) kept.form[name] = form.elements[name].value = String(Number(round(wind * ratio, unit === "ms" ? 2 : 1)));
  }
}

/** Say which field that is seen holds no number, if one does; gusts may be left out. */
export function allNumbers(root) {
  const wrong = [...root.querySelectorAll("input[inputmode]")].find((it) => it.offsetParent && number(it.value) === null && (it.value.trim() || it.required));
  if (!wrong) return true;
  const name = root.querySelector(`label[for="${wrong.id}"]`).textContent;
  document.getElementById("fault").textContent = wrong.value.trim() ? `${name}: “${wrong.value.trim()}” is no number.` : `${name}: give a number.`;
  wrong.focus();
  return false;
}

/** Fill the form from what is kept, keep what is changed, call `submitted` when it is sent. */
export function caseForm(submitted) {
  const form = document.getElementById("case");
  if (!form) return null;
  if (!form.elements.boat.querySelector(`option[value="${CSS.escape(kept.form.boat)}"]`)) kept.form.boat = form.elements.boat.value;
  for (const [name, value] of Object.entries(kept.form)) {
    const field = form.elements[name];
    if (field) field.value = value;
  }
  const shown = () => {
    form.querySelectorAll("[data-wind]").forEach((it) => { it.hidden = it.dataset.wind !== form.elements.wind.value; });
    document.getElementById("angle-field").hidden = !(form.elements.wind.value === "true" && form.elements.course.value === "angle");
    showUnits();
  };
  form.addEventListener("change", () => {
    const boat = kept.form.boat;
    for (const name of Object.keys(FIRST)) if (form.elements[name]) kept.form[name] = form.elements[name].value;
    if (kept.form.boat !== boat) { kept.controls = {}; kept.before = null; }
    keep(); shown();
  });
  for (const name of ["units", "lengths", "words"]) {
    const field = document.getElementById(name);
    field.value = preferences[name];
    field.addEventListener("change", () => {
      if (name === "units") { retold(form, field.value); keep(); }
      preferences[name] = field.value; store(PREFERENCES, preferences); location.reload();
    });
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    form.dispatchEvent(new Event("change"));
    if (allNumbers(form)) submitted();
  });
  shown();
  return form;
}
