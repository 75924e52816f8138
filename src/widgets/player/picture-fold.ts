import {required} from "../required.ts";
import type {SoundPictureElement, Watched} from "../sound-picture/sound-picture.element.ts";
import {canPlayLive} from "./live/sound-device.ts";

/** Where the picture of the sound fits below the player. */
const roomy = "(width >= 1100px) and (height >= 1160px)";

/** The picture of what plays, folded away below a player. */
export type PictureFold = Readonly<{
  /** Where it is unfolded, shows what plays now, or that nothing does. */
  show: () => Promise<void>;
  /** Told when it plays. The first time it unfolds by itself where there is room; after that it stays as the reader leaves it. */
  plays: () => void;
}>;

/** @param watched resolves to what goes into the circuit and comes out of it; to undefined while nothing plays */
export function pictureFold(player: HTMLElement, watched: () => Promise<Watched | undefined>): PictureFold {
  const fold = required(player, ".watch", HTMLDetailsElement);
  const picture: HTMLElement & Partial<SoundPictureElement> = required(player, "sound-picture", HTMLElement);
  let offered = false;
  const show = async (): Promise<void> => {
    const {open} = fold;
    if (open) {
      await import("../sound-picture/sound-picture.element.ts");
      picture.scrollIntoView({block: "nearest"});
    }
    picture.watch?.(open ? await watched() : undefined);
  };
  fold.hidden = !canPlayLive();
  fold.addEventListener("toggle", () => void show());
  return {
    show,
    plays() {
      if (!fold.inert) {
        if (matchMedia(roomy).matches && !offered) fold.open = true;
        offered = true;
      }
      void show();
    },
  };
}
