// Runs before the bench is painted: what would answer the guess is kept back from the start, until there is a guess.
// Who comes by a link to a setting or an exercise wants to see that, and is not asked first.
(() => {
  const main = document.currentScript.parentElement;
  let kept;
  try {
    kept = JSON.parse(localStorage.getItem("part-by-part.notebook")).guesses[`${main.dataset.lesson}-guess`];
  } catch {
    // Nothing is kept, or storage is refused: the guess is open.
  }
  main.dataset.guess = kept === undefined && location.hash === "" ? "open" : "kept";
})();
