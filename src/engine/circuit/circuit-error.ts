/** A circuit that cannot be built. The message names the part or the node and says how to mend it. */
export class CircuitError extends Error {
  override name = "CircuitError";
  /** Designator of the part at fault, where one part is. */
  readonly ref: string | undefined;
  /** Name of the node at fault, where one node is. */
  readonly node: string | undefined;

  constructor(message: string, at: Readonly<{ref?: string; node?: string}> = {}) {
    super(message);
    this.ref = at.ref;
    this.node = at.node;
  }
}

/** A part whose value, position or model is out of range. */
export class PartValueError extends CircuitError {
  override name = "PartValueError";
}

/** Two parts with one designator. */
export class DuplicateReferenceError extends CircuitError {
  override name = "DuplicateReferenceError";
}

/** A node that no part touches. */
export class UnknownNodeError extends CircuitError {
  override name = "UnknownNodeError";
}

/** A node with no path to ground. */
export class FloatingNodeError extends CircuitError {
  override name = "FloatingNodeError";
}

/** Sources, wires and op-amp outputs that fix one voltage twice. */
export class SourceLoopError extends CircuitError {
  override name = "SourceLoopError";
}
