import {inOrder, workAtRest, type AtRestReply, type AtRestRequest} from "./at-rest-works.ts";

let queue: readonly AtRestRequest[] = [];
let busy = false;

// Between two pieces of work the worker listens: a newer bench empties the queue.
const {port1, port2} = new MessageChannel();
port1.onmessage = work;

addEventListener("message", ({data}: MessageEvent<AtRestRequest>) => {
  queue = inOrder([...queue, data]);
  if (!busy) port2.postMessage(0);
  busy = true;
});

function work() {
  const [first, ...others] = queue;
  queue = others;
  busy = first !== undefined;
  if (!first) return;
  post(reply(first));
  port2.postMessage(0);
}

function reply(request: AtRestRequest): AtRestReply {
  try {
    return {id: request.id, answer: workAtRest(request)};
  } catch (error) {
    return {id: request.id, message: error instanceof Error ? error.message : String(error)};
  }
}

const post = (answer: AtRestReply) => postMessage(answer);
