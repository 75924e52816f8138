import {required} from "../required.ts";

/**
 * Lets a fragment that has room for its compact drawing only show the wide one over the whole page: by the button of the bench,
 * or by a press beside the parts.
 */
export function wholeDrawing(fragment: HTMLElement): void {
  const dialog = required(fragment, "dialog.whole", HTMLDialogElement);
  const place = required(dialog, ".whole-drawing", HTMLElement);
  const open = () => {
    const wide = required(fragment, ".schematic-drawing.wide", SVGSVGElement);
    place.replaceChildren(wide.cloneNode(true));
    dialog.showModal();
  };
  document.querySelector(".open-whole")?.addEventListener("click", open);
  fragment.addEventListener("click", ({target}) => {
    if (target instanceof Element && target.closest(".schematic-drawing.compact") && !target.closest(".part")) open();
  });
  required(dialog, "button", HTMLButtonElement).addEventListener("click", () => dialog.close());
  dialog.addEventListener("click", ({target}) => {
    // The drawing fills the dialog: only what lies round it is the dialog itself.
    if (target === dialog) dialog.close();
  });
  // Closed, there is one wide drawing again: the one that follows the bench.
  dialog.addEventListener("close", () => place.replaceChildren());
}
