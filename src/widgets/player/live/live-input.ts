/** An input that is open: a guitar through an audio interface, or a microphone. */
export type LiveInput = Readonly<{
  stream: MediaStream;
  /** The device's own name, as the system gives it. */
  name: string;
  close: () => void;
  /** Told when the device goes away by itself. */
  onGone: (act: () => void) => void;
}>;

/** An input, or a sentence that says why there is none and what to do. */
export type OpenedInput = Readonly<{ok: true; input: LiveInput} | {ok: false; message: string}>;

export type InputDevice = Readonly<{id: string; name: string}>;

const reasons: Readonly<Record<string, string>> = {
  NotAllowedError: "The browser was not allowed to use the input. Allow it for this page, then press again.",
  NotFoundError: "No input was found. Plug in an audio interface or a microphone, then press again.",
  NotReadableError: "The input is in use by another program. Close it there, then press again.",
  OverconstrainedError: "That input is no longer there. Choose another.",
};

/**
 * Opens an input, or the one of this id, with everything off that is made for speech: echo cancellation, gain control and noise
 * suppression would each bend what the circuit is to bend.
 */
export async function openInput(id?: string): Promise<OpenedInput> {
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: {
        ...(id ? {deviceId: {exact: id}} : {}),
        channelCount: 1,
        echoCancellation: false,
        autoGainControl: false,
        noiseSuppression: false,
      },
    });
    const [track] = stream.getAudioTracks();
    if (!track) return {ok: false, message: reasons["NotFoundError"] ?? ""};
    const close = () => stream.getTracks().forEach((each) => each.stop());
    const onGone = (act: () => void) => track.addEventListener("ended", act);
    return {ok: true, input: {stream, name: track.label, close, onGone}};
  } catch (error) {
    const known = error instanceof DOMException ? reasons[error.name] : undefined;
    return {
      ok: false,
      message: known ?? `The input could not be opened: ${error instanceof Error ? error.message : String(error)}.`,
    };
  }
}

/** The inputs that there are; their names are told once one has been allowed. */
export async function inputDevices(): Promise<readonly InputDevice[]> {
  const all = await navigator.mediaDevices.enumerateDevices();
  return all
    .filter(({kind}) => kind === "audioinput")
    .map(({deviceId, label}, k) => ({id: deviceId, name: label || `input ${k + 1}`}));
}
