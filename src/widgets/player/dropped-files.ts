/** Gives the first of the files that are dropped on an element to `take`; while they hover, the element has the class "dropping". */
export function droppedFiles(element: HTMLElement, take: (file: File | undefined) => void): void {
  const hover = (event: DragEvent, hovers: boolean) => {
    event.preventDefault();
    element.classList.toggle("dropping", hovers);
  };
  element.addEventListener("dragover", (event) => hover(event, true));
  element.addEventListener("dragleave", (event) => hover(event, false));
  element.addEventListener("drop", (event) => {
    hover(event, false);
    take(event.dataTransfer?.files[0]);
  });
}
