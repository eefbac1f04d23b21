// One file: show the sheet of the wind and course chosen; without this script all are shown.
const chosen = (name) => document.querySelector(`input[name="${name}"]:checked`).value;
const show = () => document.querySelectorAll(".sheet").forEach((it) => { it.hidden = it.id !== `w${chosen("w")}-${chosen("c")}`; });
document.querySelectorAll(".pick input").forEach((it) => it.addEventListener("change", show));
addEventListener("beforeprint", () => document.querySelectorAll(".sheet").forEach((it) => { it.hidden = false; }));
addEventListener("afterprint", show);
const night = document.getElementById("night");
night.addEventListener("click", () => {
  const on = document.documentElement.dataset.night !== "on";
  document.documentElement.dataset.night = on ? "on" : "off";
  night.setAttribute("aria-pressed", String(on));
});
show();
