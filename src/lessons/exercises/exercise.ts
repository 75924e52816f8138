export type {ExerciseView as Exercise} from "../../widgets/exercise/exercise-view.ts";
