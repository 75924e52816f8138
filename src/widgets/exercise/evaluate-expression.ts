import {
  addDependencies,
  create,
  divideDependencies,
  evaluateDependencies,
  log10Dependencies,
  multiplyDependencies,
  piDependencies,
  powDependencies,
  sqrtDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  type FactoryFunctionMap,
} from "mathjs";
import {parseQuantity} from "../../engine/quantities/parse-quantity.ts";
import type {Unit} from "../../engine/quantities/unit.ts";
import {isAmbiguous, plainExpression} from "./expression.ts";

// Only what a formula of the course needs: the whole library would weigh twice as much.
const factories: FactoryFunctionMap = Object.assign(
  {},
  addDependencies,
  divideDependencies,
  evaluateDependencies,
  log10Dependencies,
  multiplyDependencies,
  piDependencies,
  powDependencies,
  sqrtDependencies,
  subtractDependencies,
  unaryMinusDependencies,
);
const math = create(factories, {});

type Evaluated = Readonly<{ok: true; value: number; unitGiven: boolean}> | Readonly<{ok: false; message: string}>;

/** Works out a typed formula. A unit may follow it; a formula that cannot be read gets a sentence. */
export function evaluateExpression(text: string, unit: Unit): Evaluated {
  if (isAmbiguous(text)) {
    return {
      ok: false,
      message: "“/2π” can be read in two ways. Put what is below the line in brackets, as in 1/(2*pi*…).",
    };
  }
  const {expression, suffix} = plainExpression(text);
  if (!/^[\d\s.+\-*/^()episqrtlog,]*$/i.test(expression)) return unreadable(text);
  try {
    const value: unknown = math.evaluate(expression);
    if (typeof value !== "number" || !Number.isFinite(value)) return unreadable(text);
    if (suffix === "") return {ok: true, value, unitGiven: unit === ""};
    const factor = parseQuantity(`1${suffix}`, unit);
    if (!factor.ok) return {ok: false, message: factor.message};
    return {ok: true, value: value * factor.value, unitGiven: true};
  } catch {
    return unreadable(text);
  }
}

const unreadable = (text: string): Evaluated => ({
  ok: false,
  message: `I can't work out “${text.slice(0, 40)}”. Write it with * for times and brackets in pairs, such as 1/(2*pi*3.3k*68n) Hz.`,
});
