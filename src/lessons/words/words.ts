import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {lowEHz} from "../../widgets/bench-state/read-curve.ts";
import {midsHz} from "../../widgets/bench-state/readings-gain-stage.ts";

/** One word of the trade: how it is written, and what it means in one or two plain sentences. */
export type WordEntry = Readonly<{word: string; meaning: string}>;

/** The words that lessons use, in the order of the alphabet. The key names a word in a lesson and in its address. */
export const words = {
  "bias-resistor": {
    word: "bias resistor",
    meaning:
      "A large resistor that ties a point in the signal's way to a steady voltage, so that the signal has something to swing around.",
  },
  capacitance: {
    word: "capacitance",
    meaning:
      "How much charge two conductors hold for each volt between them, in farads. Any two that lie side by side have some, a cable too.",
  },
  capacitor: {
    word: "capacitor",
    meaning:
      "Two conductors side by side that store charge. Quick changes pass it with ease, slow ones hardly, a steady voltage not at all.",
  },
  clipping: {
    word: "clipping",
    meaning:
      "Holding back the tops of a signal that would go further. What is cut off comes back as harmonics that were not there before.",
  },
  compression: {
    word: "compression",
    meaning: "Bringing loud and quiet closer together. What is loud gets less gain than what is quiet.",
  },
  "corner-frequency": {
    word: "corner frequency",
    meaning:
      "Where a filter has lost 3 dB, that is where the voltage is down to 0.71 of what it would be without it. The curve bends there.",
  },
  "coupling-capacitor": {
    word: "coupling capacitor",
    meaning: "A capacitor in the signal's way that lets the notes through and keeps a steady voltage on its own side.",
  },
  decibel: {
    word: "decibel",
    meaning:
      "A ratio on a scale that ears would draw: 20 times the logarithm of a ratio of voltages. Twice the voltage is about 6 dB more, a tenth of it is 20 dB less.",
  },
  diode: {
    word: "diode",
    meaning:
      "A part that conducts one way only. It hardly conducts up to a certain voltage and then quickly more and more.",
  },
  "E12-series": {
    word: "E12 series",
    meaning:
      "Twelve values to the decade that parts are sold in, at nearly even ratios: 1, 1.2, 1.5, 1.8, 2.2 and so on. The E24 series has one more between each two.",
  },
  follower: {
    word: "follower",
    meaning:
      "An op-amp stage whose output does what its input does, a gain of one. What comes after it no longer loads what comes before.",
  },
  gain: {
    word: "gain",
    meaning: "How many times larger the output is than the input. Often told in decibels: 0 dB is as large as before.",
  },
  "gain-control": {
    word: "gain control",
    meaning: "A potentiometer that sets how much a stage amplifies: the further up it is turned, the more.",
  },
  generator: {
    word: "generator",
    meaning:
      "An instrument that gives a steady sine at a frequency and level of your choice. On a bench it takes the place of the guitar.",
  },
  ground: {
    word: "ground",
    meaning:
      "The point of a circuit that all its voltages are counted from. The screen of the cable and the metal of the jacks lead to it.",
  },
  harmonic: {
    word: "harmonic",
    meaning:
      "A part of a sound at a whole number of times its lowest frequency. The even ones, 2, 4, 6, and the odd ones, 3, 5, 7, sound different.",
  },
  headroom: {
    word: "headroom",
    meaning:
      "How much louder a signal could become, in decibels, before what it passes through runs out of room and clips.",
  },
  henry: {
    word: "henry",
    meaning:
      "The unit of inductance: one volt across one henry changes the current by one ampere in every second. A pickup has a few.",
  },
  "high-pass": {
    word: "high-pass",
    meaning: "A filter that lets what is above its corner through and loses more and more below it.",
  },
  hump: {
    word: "hump",
    meaning:
      "A place where a curve rises above its flat part before it falls. A guitar has one where its pickup and its cable resonate.",
  },
  impedance: {
    word: "impedance",
    meaning:
      "What a part or a whole circuit sets against a current, in ohms. Unlike a plain resistance it may differ from frequency to frequency.",
  },
  inductance: {
    word: "inductance",
    meaning: "How strongly a coil resists a change of the current through it, in henries. A pickup is mostly this.",
  },
  leg: {
    word: "leg",
    meaning:
      "What leads from an op-amp's − input to ground or to the reference. The less it resists, the more the stage amplifies.",
  },
  loading: {
    word: "loading",
    meaning:
      "What the next part does to the one before it by drawing current: it lowers its voltage and may move its corner.",
  },
  "low-E": {
    word: "low E",
    meaning: `The lowest string of a guitar, played open. In equal temperament on an A of 440 Hz it sounds at ${formatQuantity(lowEHz, "Hz")}.`,
  },
  "low-pass": {
    word: "low-pass",
    meaning: "A filter that lets what is below its corner through and loses more and more above it.",
  },
  mids: {
    word: "mids",
    meaning: `What lies between bass and treble. Where they begin and end nobody has agreed; lesson 6 reads them at ${formatQuantity(midsHz, "Hz")}.`,
  },
  "negative-feedback": {
    word: "negative feedback",
    meaning:
      "Leading part of an output back to an input that works against it, so that the parts of the loop, and not the amplifier, set the gain.",
  },
  octave: {
    word: "octave",
    meaning: "From any frequency to twice that frequency: twelve frets up the same string.",
  },
  "op-amp": {
    word: "op-amp",
    meaning:
      "An amplifier on a chip with two inputs. It multiplies the difference between them by a very large number; feedback makes something useful of it.",
  },
  "operating-point": {
    word: "operating point",
    meaning:
      "The steady voltages and currents of a circuit while no signal plays. Everything the signal does starts there.",
  },
  peak: {
    word: "peak",
    meaning:
      "The furthest that a wave goes from where it rests, in volts. From peak to peak is the whole swing, twice as much where both halves are alike.",
  },
  phase: {
    word: "phase",
    meaning: "How far a wave runs ahead of another or behind it, as a part of a whole turn, which is 360°.",
  },
  pickup: {
    word: "pickup",
    meaning:
      "A magnet in a coil of very thin wire, under the strings. A string that swings over it makes a small voltage in the coil.",
  },
  potentiometer: {
    word: "potentiometer",
    meaning:
      "A resistor with a third terminal that slides along it. With two terminals in use it is a variable resistor.",
  },
  "preferred-value": {
    word: "preferred value",
    meaning:
      "A value that parts are sold in: one of a series whose steps are nearly even ratios, such as the E12 series.",
  },
  probe: {
    word: "probe",
    meaning:
      "What a scope touches a circuit with. Switched to ×10 it passes a tenth of the voltage and draws far less current than at ×1, where it passes all.",
  },
  rail: {
    word: "rail",
    meaning:
      "One of the two ends of a supply, here the battery's plus and ground. No output goes past them, and most stop a little before.",
  },
  reference: {
    word: "reference",
    meaning:
      "A steady voltage half way between the rails, made by two equal resistors. In a circuit with one battery the notes swing around it.",
  },
  resonance: {
    word: "resonance",
    meaning:
      "The frequency at which a coil and a capacitor pass energy back and forth like a swing, and a curve has its hump.",
  },
  rms: {
    word: "rms",
    meaning:
      "What a wave is worth as a steady voltage that heats a resistor as much: the root of the mean of its squares. For a sine it is 0.71 of the peak.",
  },
  scope: {
    word: "scope",
    meaning: "An instrument that draws a voltage over time, or one voltage over another, which is called X-Y.",
  },
  "soft-clipping": {
    word: "soft clipping",
    meaning: "Holding back what is loud little by little, so that the tops of a wave are rounded and not cut flat.",
  },
  "source-impedance": {
    word: "source impedance",
    meaning:
      "What stands in series with a signal before it leaves its source, in ohms. The larger it is, the more the next part can take from it.",
  },
  taper: {
    word: "taper",
    meaning:
      "How the resistance of a potentiometer grows with its rotation: evenly, or slowly first and fast at the end.",
  },
} as const satisfies Record<string, WordEntry>;

export type WordName = keyof typeof words;
