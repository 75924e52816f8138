// Runs before the bench is painted: what would answer the guess is kept back from the start, until there is a guess.
// Who comes by a link to a setting or an exercise wants to see that, and is not asked first; data-linked names them.
(() => {
  const main = document.currentScript.parentElement;
  let kept;
  try {
    kept = JSON.parse(localStorage.getItem("part-by-part.notebook")).guesses[`${main.dataset.lesson}-guess`];
  } catch {
    // Nothing is kept, or storage is refused: the guess is open.
  }
  // Each entry by its name: "C3" of "C3=10u", "before.C3" of "before.C3=68n".
  const named = main.dataset.linked.split(" ");
  const linked = location.hash.slice(1).split("&");
  const isLinked = linked.some((entry) => named.includes(entry) || named.includes(entry.replace(/(?<==).+/, "")));
  const isOpen = kept === undefined && !isLinked;
  main.dataset.guess = isOpen ? "open" : "kept";
  if (isOpen) main.dataset.rest = "waits";
})();
