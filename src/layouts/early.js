// Runs before the first paint: what the reader chose to see is on the page from the start.
(() => {
  const root = document.documentElement;
  root.classList.add("live");
  try {
    const theme = localStorage.getItem("part-by-part.theme");
    if (theme === "light" || theme === "dark") root.dataset.theme = theme;
    if (localStorage.getItem("part-by-part.resistor") === "zigzag") root.dataset.resistor = "zigzag";
  } catch {
    // Storage is refused: the page goes on with what the system prefers.
  }
})();
