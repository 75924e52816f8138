// Runs before the bench is painted: what would answer the guess is kept back from the start, until there is a guess.
// Who comes by a link to a setting or an exercise wants to see that, and is not asked first; data-linked names them.
(() => {
  const decoded = (text) => {
    try {
      return decodeURIComponent(text);
    } catch {
      return text;
    }
  };
  const main = document.currentScript.parentElement;
  let kept;
  try {
    kept = JSON.parse(localStorage.getItem("part-by-part.notebook")).guesses[`${main.dataset.lesson}-guess`];
  } catch {
    // Nothing is kept, or storage is refused: the guess is open.
  }
  // An entry as it stands, such as "note=A", or by its name where a value that can be read follows: "C3=10u", "before.C3=68n".
  // A link with no such entry sets nothing.
  const named = main.dataset.linked.split(" ");
  const value =
    /^[-+]?(\d*[.,]?\d+|\d+[.,])(e[-+]?\d{1,2})?\s*[a-zµμ]?\s*(F|H|V|Hz|Ω|ohms?|m|%)?$|^\d*[pnuµμmkMRV]\d+(F|H|V|Ω)?$/iu;
  const entries = location.hash
    .slice(1)
    .split("&")
    .filter((entry) => {
      const [, name, given] = /^([^=]+=)(.+)$/.exec(entry) ?? [];
      return (named.includes(entry) && !entry.endsWith("=")) || (named.includes(name) && value.test(decoded(given)));
    });
  const isLinked = entries.length > 0;
  // The page was built at the lesson's start: until the bench is set, its numbers are of another (address.element.ts).
  if (entries.some((entry) => !entry.startsWith("exercise"))) main.dataset.coming = "";
  const isOpen = kept === undefined && !isLinked;
  main.dataset.guess = isOpen ? "open" : "kept";
  if (isOpen) main.dataset.rest = "waits";
  // Not asked: the guess says so.
  else if (kept === undefined) main.dataset.unasked = "";
})();
