// Opens the viewer on this server's own document. It asks no other host for anything.
const dark = matchMedia("(prefers-color-scheme: dark)");
const follow = () => document.documentElement.classList.toggle("dark-mode", dark.matches);
dark.addEventListener("change", follow);
follow();

// A refusal's type leads to a place below the viewer, which pushes it down as it draws. So the page
// goes there again, until somebody scrolls.
const wanted = document.getElementById(location.hash.slice(1));
if (wanted) {
  const going = new ResizeObserver(() => wanted.scrollIntoView());
  going.observe(document.getElementById("viewer"));
  for (const act of ["wheel", "pointerdown", "keydown"]) {
    addEventListener(act, () => going.disconnect(), { once: true });
  }
}

SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#viewer",
  validatorUrl: null,
  // The viewer would take our places for its own.
  deepLinking: !wanted,
  docExpansion: "list",
  defaultModelsExpandDepth: 0,
  tryItOutEnabled: true,
  requestSnippetsEnabled: true,
});
