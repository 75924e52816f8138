/** What the whole build needs once it is worked out, in one chunk of its own: the page loads without it. */
export {startSetting} from "../../engine/course/course-circuit.ts";
export {cueListCsv, cueListWebVtt} from "../../engine/sound/cue-list.ts";
export {workingOut} from "../whole-sounds/working-out.ts";
export {composedFile} from "./composed.ts";
export {stagePlayer} from "./stage-player.ts";
export {stageWorks} from "./stage-works.ts";
export {stageCues} from "./whole-build.ts";
