import {lastLesson} from "./last-lesson.ts";

type Lesson = {number: number; href: string; title: string};

/** Offers the lesson last open in this browser, when there is one. */
class CarryOnElement extends HTMLElement {
  connectedCallback() {
    const lessons = JSON.parse(this.dataset["lessons"] ?? "[]") as Lesson[];
    const last = lessons.find(({number}) => number === lastLesson());
    const go = this.querySelector<HTMLAnchorElement>(".go");
    const again = this.querySelector<HTMLAnchorElement>(".again");
    if (!last || !go || !again || last.number === lessons[0]?.number) return;
    again.href = go.href;
    again.textContent = "or start again with the wire";
    again.hidden = false;
    go.href = last.href;
    go.textContent = `Carry on: ${last.number}. ${last.title}`;
  }
}

customElements.define("carry-on", CarryOnElement);
