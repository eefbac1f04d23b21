// Pair: the code goes once to the server; a scanned one comes behind the # and is sent by itself.
const form = document.getElementById("pair"), field = document.getElementById("code"), fault = document.getElementById("fault");
async function send() {
  fault.textContent = "";
  const answer = await fetch("/pair", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ code: field.value.trim() }) });
  if (answer.ok) location.replace("/set");
  else { fault.textContent = await answer.text(); field.focus(); field.select(); }
}
form.addEventListener("submit", (event) => { event.preventDefault(); send(); });
const scanned = /^#(\d{6})$/.exec(location.hash);
if (scanned) { field.value = scanned[1]; history.replaceState(null, "", "/pair"); send(); } else field.focus();
