import type {AtRestAnswer, AtRestAsked, AtRestKind, AtRestReply, AtRestRequest} from "./at-rest-works.ts";
import type {BenchView} from "./bench-state.ts";
import {soundServed} from "./sound-first.ts";

/** How long a bench stands still before it counts as at rest, in milliseconds. */
export const restMilliseconds = 150;

type Waiting = Readonly<{
  request: AtRestRequest;
  resolve: (answer: unknown) => void;
  reject: (error: Error) => void;
}>;

const waiting = new Map<number, Waiting>();
let hand: ((request: AtRestRequest) => void) | undefined;
let latest: BenchView | undefined;
let round = 0;
let asked = 0;

/**
 * Works something out beside the page. Resolves to undefined when the bench has moved on before it was done.
 *
 * One worker does it all, so that what one widget asked for serves the others. Without a worker it is done here, late.
 */
export function atRest<K extends AtRestKind>(
  kind: K,
  view: BenchView,
  ...[question]: undefined extends AtRestAsked<K> ? [] : [AtRestAsked<K>]
): Promise<AtRestAnswer<K> | undefined> {
  if (view !== latest) {
    latest = view;
    round++;
    for (const [id, {resolve}] of waiting) {
      waiting.delete(id);
      resolve(undefined);
    }
  }
  const request: AtRestRequest = {id: ++asked, round, kind, view, asked: question};
  const promise = new Promise<unknown>((resolve, reject) => waiting.set(request.id, {request, resolve, reject}));
  const served = soundServed();
  if (served) void served.then(() => handOver(request));
  else handOver(request);
  return promise as Promise<AtRestAnswer<K> | undefined>;
}

function handOver(request: AtRestRequest) {
  if (!waiting.has(request.id)) return;
  hand ??= worker() ?? here;
  hand(request);
}

function take(reply: AtRestReply) {
  const found = waiting.get(reply.id);
  waiting.delete(reply.id);
  if ("answer" in reply) found?.resolve(reply.answer);
  else found?.reject(new Error(reply.message));
}

function worker(): typeof hand {
  try {
    const started = new Worker(new URL("./at-rest.worker.ts", import.meta.url), {type: "module"});
    started.addEventListener("message", ({data}: MessageEvent<AtRestReply>) => take(data));
    started.addEventListener("error", () => {
      // It could not start: what waits is done here.
      hand = here;
      for (const {request} of waiting.values()) here(request);
    });
    return (request) => started.postMessage(request);
  } catch {
    return undefined;
  }
}

function here(request: AtRestRequest) {
  setTimeout(async () => {
    if (!waiting.has(request.id)) return;
    const {workAtRest} = await import("./at-rest-works.ts");
    try {
      take({id: request.id, answer: workAtRest(request)});
    } catch (error) {
      take({id: request.id, message: error instanceof Error ? error.message : String(error)});
    }
  });
}
