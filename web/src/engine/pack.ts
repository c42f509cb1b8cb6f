// What the build says of the engine's pack, in engine.json.
export interface Piece {
  name: string;
  bytes: number;
  /** What goes over the network, compressed. */
  sent_bytes: number;
}

export interface Pack {
  folder: string;
  engine_version: string;
  files: { name: string; pieces: Piece[] }[];
  /** The runtime's list of packages to be had elsewhere: none. */
  lock: unknown;
  self_test: { question: string; body: string; status: number; reply: unknown }[];
}
