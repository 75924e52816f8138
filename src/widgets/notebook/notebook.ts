/** What the reader leaves in this browser: guesses and answers, under one key. Nothing of it is sent anywhere. */

const key = "part-by-part.notebook";

/** What was typed last, how the last answer that counted was marked ("unread" while none has), and how many have counted. */
export type AnswerNote = Readonly<{text: string; status: "right" | "not yet" | "unread"; tries: number}>;
type Notebook = Readonly<{
  version: 1;
  guesses: Readonly<Record<string, string>>;
  answers: Readonly<Record<string, AnswerNote>>;
}>;

const empty: Notebook = {version: 1, guesses: {}, answers: {}};

/** The guess kept for a question; undefined if none is. */
export const keptGuess = (id: string): string | undefined => read().guesses[id];

/** Keeps a guess. */
export const keepGuess = (id: string, guess: string): void => {
  const notebook = read();
  write({...notebook, guesses: {...notebook.guesses, [id]: guess}});
};

/** What was answered to an exercise; undefined if nothing was. */
export const keptAnswer = (id: string): AnswerNote | undefined => read().answers[id];

/** Keeps an answer, with everything known of it. */
export const keepAnswer = (id: string, answer: AnswerNote): void => {
  const notebook = read();
  write({...notebook, answers: {...notebook.answers, [id]: answer}});
};

/** Sent on the document when what is kept was cleared or brought back. */
export const notebookChanged = "notebook-changed";

/**
 * Clears guess and answers of a lesson: those whose id is "6-guess" or "6.1" for lesson 6. Returns what brings them back;
 * undefined if nothing was kept.
 */
export function clearLesson(lesson: number): (() => void) | undefined {
  const whole = read();
  const others = <T>(entries: Readonly<Record<string, T>>) =>
    Object.fromEntries(Object.entries(entries).filter(([id]) => Number.parseInt(id, 10) !== lesson));
  const left = {...whole, guesses: others(whole.guesses), answers: others(whole.answers)};
  const count = ({guesses, answers}: Notebook) => Object.keys(guesses).length + Object.keys(answers).length;
  if (count(left) === count(whole)) return undefined;
  write(left);
  return () => {
    const now = read();
    write({...now, guesses: {...whole.guesses, ...now.guesses}, answers: {...whole.answers, ...now.answers}});
  };
}

/** Whether this browser keeps anything at all. */
export function isKeeping(): boolean {
  return write(read());
}

/** What is stored, or an empty notebook where nothing readable is. */
function read(): Notebook {
  try {
    const stored: unknown = JSON.parse(localStorage.getItem(key) ?? "null");
    return isNotebook(stored) ? stored : empty;
  } catch {
    return empty;
  }
}

function write(notebook: Notebook): boolean {
  try {
    localStorage.setItem(key, JSON.stringify(notebook));
    return true;
  } catch {
    // Storage is refused or full: the page works on, it only forgets.
    return false;
  }
}

function isNotebook(stored: unknown): stored is Notebook {
  if (typeof stored !== "object" || stored === null) return false;
  const {version, guesses, answers} = stored as Partial<Notebook>;
  return version === 1 && isRecord(guesses) && isRecord(answers);
}

const isRecord = (value: unknown) => typeof value === "object" && value !== null && !Array.isArray(value);
