// Runs where the text ends: what follows an open guess would answer it, and is folded away until there is one.
// A search in the page still finds it, and an address that leads into it opens it.
(() => {
  const main = document.currentScript.closest("main");
  if (main.dataset.rest !== "waits") return;
  const rest = Array.from(main.querySelectorAll("#guess-first ~ section"));
  const place = document.getElementById(location.hash.slice(1));
  if (place && rest.some((section) => section.contains(place))) delete main.dataset.rest;
  else for (const section of rest) section.setAttribute("hidden", "until-found");
})();
