/** Longer than two frames, in milliseconds: what arrives sooner is not worth a flicker. */
const patienceMilliseconds = 50;

/** Shows that something is behind the bench, and that it has caught up. */
export type Behind = Readonly<{begin: () => void; end: () => void}>;

/**
 * Marks an element that does not fit the bench yet: dimmed, and `aria-busy` for who does not see it (base.css). What catches up
 * within two frames is never marked.
 */
export function behind(host: HTMLElement): Behind {
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    begin() {
      timer ??= setTimeout(() => host.setAttribute("aria-busy", "true"), patienceMilliseconds);
    },
    end() {
      clearTimeout(timer);
      timer = undefined;
      host.removeAttribute("aria-busy");
    },
  };
}
