import {fittingUnit, markAnswer, markValue, type Marking} from "../../engine/answers/mark-answer.ts";
import type {NumericExercise} from "../../engine/answers/numeric-exercise.ts";
import {plainAnswer} from "../../engine/answers/plain-answer.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {isExpression} from "./expression.ts";

/** Whether an entry is a formula, whose reader may still be on its way. */
export const isFormula = (entry: string, {unit}: NumericExercise): boolean => isExpression(plainAnswer(entry), unit);

/** A number is marked at once; a formula is first worked out by a reader that is loaded when it is needed. */
export async function markEntry(entry: string, exercise: NumericExercise): Promise<Marking> {
  const text = plainAnswer(entry);
  if (!isExpression(text, exercise.unit)) return markAnswer(text, exercise);
  const {evaluateExpression} = await import("./evaluate-expression.ts");
  const read = evaluateExpression(text, exercise.unit);
  if (!read.ok) return {status: "unreadable", message: read.message};
  if (!read.unitGiven && exercise.unit !== "") {
    return {
      status: "unit missing",
      readAs: formatQuantity(read.value, exercise.unit),
      message: `I worked that out as ${formatQuantity(read.value, "", {figures: 4})}. Write the unit after it too, such as ${fittingUnit(read.value, exercise)}.`,
    };
  }
  return markValue(read.value, formatQuantity(read.value, exercise.unit, {figures: 4}), exercise);
}
