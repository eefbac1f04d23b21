// Before anything is drawn: the night view, so that no bright page strikes adapted eyes.
try { document.documentElement.dataset.night = localStorage.getItem("night") === "on" ? "on" : "off"; } catch { /* kept off */ }
