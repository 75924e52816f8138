// What a move of a control costs the sound: the whole pedal's step derived anew from its equations. The mark is 25 µs.
import {stamps} from "../../src/engine/analysis/stamps.ts";
import {courseCircuit, lessonCount, startSetting} from "../../src/engine/course/course-circuit.ts";
import {stepModel} from "../../src/engine/realtime/derive-step.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const {circuit, listenAt} = courseCircuit(startSetting(lessonCount));
const equations = stamps(circuit);
const output = equations.unknownOf.get(listenAt) ?? -1;
const many = 1000;
const seconds = shortestSeconds(() => {
  for (let k = 0; k < many; k++) stepModel(equations, [output], 384e3, "trapezoidal");
}, 15);
const microseconds = (1e6 * seconds) / many;
console.log(`figure deriving-a-step,-microseconds ${microseconds.toFixed(1)}`);
console.log(`ratio 25-µs-against-deriving-a-step ${(25 / microseconds).toFixed(2)} 1`);
