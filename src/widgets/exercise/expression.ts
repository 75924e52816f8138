import {parseQuantity} from "../../engine/quantities/parse-quantity.ts";
import type {Unit} from "../../engine/quantities/unit.ts";

/** Whether a text is a formula to be worked out, and not a plain value: it has a sign, bracket or function behind its first character. */
export function isExpression(text: string, unit: Unit): boolean {
  if (parseQuantity(text, unit).ok) return false;
  const rest = text.replace(/^\s*[-+−–]/, "").replace(/(\d[eE])[-+](?=\d)/g, "$1");
  return /[-+*/:()^×÷·⁰¹²³⁴-⁹⁻−–√π]|\bsqrt|\d\s*pi\b/.test(rest);
}
