import type {Control} from "../../engine/course/course-circuit.ts";

/** Whether a control changes the part called `ref`, alone or among others. */
export const turns = (control: Control, ref: string | undefined): boolean =>
  ref !== undefined && (control.ref === ref || (control.also ?? []).includes(ref));

/**
 * The control that belongs to a part in hand: the one in sight if it changes the part; else of those that the lesson is about
 * the part's own, then one it shares; else any other of the part. Undefined where nothing on the bench changes it.
 */
export function controlOfPart(
  ref: string | undefined,
  {shown, turned, all}: Readonly<{shown?: Control | undefined; turned: readonly Control[]; all: readonly Control[]}>,
): Control | undefined {
  if (shown && turns(shown, ref)) return shown;
  return (
    turned.find((control) => control.ref === ref) ??
    turned.find((control) => turns(control, ref)) ??
    all.find((control) => turns(control, ref))
  );
}
