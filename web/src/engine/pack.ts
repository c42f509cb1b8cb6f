// The build's description of the engine's pack, in engine.json.
export interface Piece {
  name: string;
  bytes: number;
  /** The compressed bytes that go over the network. */
  sent_bytes: number;
  /** The SHA-256 of its content, as 64 hexadecimal digits. */
  sha256: string;
}

export interface Pack {
  folder: string;
  engine_version: string;
  files: { name: string; pieces: Piece[] }[];
  /** The runtime's list of packages available elsewhere: none. */
  lock: unknown;
  self_test: { question: string; body: string; status: number; reply: unknown }[];
}
