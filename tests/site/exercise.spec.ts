import {inputCornerHz} from "./input-corner.ts";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

test("an answer is marked: right, 2π too big, a wrong prefix, without its unit, as a formula", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const exercise = page.locator("#exercise-2-1");
  const answer = async (text: string) => {
    await exercise.getByLabel("Your answer").fill(text);
    await exercise.getByRole("button", {name: "Check"}).click();
  };
  const feedback = exercise.locator(".feedback");
  const right = inputCornerHz(5.1e-9);
  await answer(`${right.toFixed(1)} Hz`);
  await expect(feedback).toContainText("Right.");
  await expect(feedback).toContainText("Counted right:");
  await answer(`${(right * 2 * Math.PI).toFixed(0)} Hz`);
  await expect(feedback).toContainText("Not yet. Your number is 2π times too big.");
  await answer(`${right.toFixed(1)} kHz`);
  await expect(feedback).toContainText("the prefix slipped");
  await answer(right.toFixed(1));
  await expect(feedback).toContainText("without its unit");
  await answer(`${right.toFixed(1).replace(".", ",")} Hz`);
  await expect(feedback).toContainText("Right.");
  await answer("1/(2*pi*(4.7k+500k)*5.1n) Hz");
  await expect(feedback).toContainText("Right.");
  await answer("1/(2*pi*(4.7 kΩ + 500 kΩ)*5.1 nF)");
  await expect(feedback).toContainText("Right.");
  await answer("1/(2*pi*(R1+R2)*C1) Hz");
  await expect(feedback).toContainText("I don’t know “R1”: names of parts and other words are not read.");
  await answer("alert(1)");
  await expect(feedback).toContainText("I can't work out");
  // What was said of an answer does not pass for a word on the next one.
  await answer(`${right.toFixed(1)} Hz`);
  await expect(feedback).toHaveClass(/right/);
  await exercise.getByLabel("Your answer").fill("999 Hz");
  await expect(feedback).toContainText(`To your answer before, ${right.toFixed(1)} Hz:`);
  await expect(feedback).not.toHaveClass(/right/);
  await exercise.getByLabel("Your answer").fill(`${right.toFixed(1)} Hz`);
  await expect(feedback).not.toContainText("To your answer before");
  await expect(feedback).toHaveClass(/right/);
});
