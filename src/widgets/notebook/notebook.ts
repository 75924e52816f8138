/** What the reader leaves in this browser: guesses and answers, under one key. Nothing of it is sent anywhere. */

const key = "part-by-part.notebook";

export type AnswerNote = Readonly<{text: string; status: "right" | "not yet"; tries: number}>;
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

/** The last answer to an exercise that counted; undefined if there is none. */
export const keptAnswer = (id: string): AnswerNote | undefined => read().answers[id];

/** Keeps an answer. */
export const keepAnswer = (id: string, answer: AnswerNote): void => {
  const notebook = read();
  write({...notebook, answers: {...notebook.answers, [id]: answer}});
};

/** What is stored, or an empty notebook where nothing readable is. */
function read(): Notebook {
  try {
    const stored: unknown = JSON.parse(localStorage.getItem(key) ?? "null");
    return isNotebook(stored) ? stored : empty;
  } catch {
    return empty;
  }
}

function write(notebook: Notebook): void {
  try {
    localStorage.setItem(key, JSON.stringify(notebook));
  } catch {
    // Storage is refused or full: the page works on, it only forgets.
  }
}

function isNotebook(stored: unknown): stored is Notebook {
  if (typeof stored !== "object" || stored === null) return false;
  const {version, guesses, answers} = stored as Partial<Notebook>;
  return version === 1 && isRecord(guesses) && isRecord(answers);
}

const isRecord = (value: unknown) => typeof value === "object" && value !== null && !Array.isArray(value);
