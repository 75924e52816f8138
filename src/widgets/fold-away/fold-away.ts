/** Lets what a row of the page's head unfolds fold away again: by Escape, with the focus back on its name, or by a press elsewhere. */
export function foldAway(details: HTMLDetailsElement): void {
  details.addEventListener("keydown", ({key}) => {
    if (key !== "Escape" || !details.open) return;
    details.open = false;
    details.querySelector("summary")?.focus();
  });
  document.addEventListener("click", ({target}) => {
    if (target instanceof Node && !details.contains(target)) details.open = false;
  });
}
