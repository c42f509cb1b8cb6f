// A salon's server in memory, for tests: the rules of pushing, receipts, cursors and epochs, with
// the pages' own fold. tests/sync runs the same exchanges against the real server.
import { createHash } from "node:crypto";
import type { Change, ErasedEntry, Pushed } from "../../src/api/shapes";
import type { Push } from "../../src/courier/push";
import { change_of_state, state_of_change } from "../../src/courier/wire";
import type { Operation } from "../../src/outbox/operation";
import { fold, refusal_of, SET_ASIDE, type State } from "../../src/records/fold";
import { upcast } from "../../src/records/upcast";

type Refusal = Pushed["refused"][number];

interface Landed {
  op: Operation;
  seq: number;
}

export class Salon {
  epoch = 1;
  acked = new Map<string, number>();
  log: Landed[] = [];
  refused = new Map<string, Refusal>();
  states = new Map<string, State>();
  seq_of = new Map<string, number>();
  erased: ErasedEntry[] = [];
  page = 500;
  /** Answers in the server's stead where it returns one; called before the server acts. */
  instead: (path: string, body: unknown) => Response | undefined = () => undefined;

  private saved: string | undefined;

  fetch = async (address: string, { method = "GET", body, headers }: RequestInit = {}) => {
    const url = new URL(address, "http://salon");
    const asked = method === "POST" ? await parsed(body, headers) : undefined;
    const other = this.instead(url.pathname, asked);
    if (other) return other;
    const query = Object.fromEntries(url.searchParams);
    switch (url.pathname) {
      case "/api/sync/push":
        return this.push(asked as Push);
      case "/api/sync/pull":
        return this.pull(query);
      case "/api/sync/snapshot":
        return this.snapshot(query);
      case "/api/sync/offer":
        return this.offer(asked as { have: { entity_id: string; ops: string[] }[] });
      case "/api/sync/rescue":
        return this.rescue(asked as { changes: Change[] });
    }
    return problem(404, "unknown");
  };

  /** Keeps a copy; `restore` goes back to it under a new epoch. */
  backup() {
    const { acked, log, refused, states, seq_of } = this;
    this.saved = JSON.stringify([acked, log, refused, states, seq_of], (_key, v) =>
      v instanceof Map ? { map: [...v] } : v,
    );
  }

  restore() {
    const back = JSON.parse(this.saved ?? "", (_key, v) =>
      Array.isArray(v?.map) ? new Map(v.map) : v,
    );
    [this.acked, this.log, this.refused, this.states, this.seq_of] = back;
    this.epoch += 1;
  }

  erase(id: string) {
    this.states.delete(id);
    this.erased.push({ n: this.erased.length + 1, id_sha256: sha256(id), at: "", sig: "" });
  }

  private refusal(op: Operation): Refusal["code"] | null {
    if (this.erased.some(({ id_sha256 }) => id_sha256 === sha256(op.entity_id))) return "erased";
    return op.fields?.name === "refuse me"
      ? "field_invalid"
      : (refusal_of(op) as Refusal["code"] | null);
  }

  private cursor(seq: number) {
    const ops = this.log.filter((row) => row.seq <= seq).map(({ op }) => op.op_id);
    const check = sha256(ops.join()).slice(0, 8);
    return `e${this.epoch}.${seq}.${check}`;
  }

  private push({ device_id, epoch, ops }: Push) {
    if (epoch !== `e${this.epoch}`) return this.epoch_changed(device_id);
    const answer = { accepted: [], duplicate: [], refused: [] } as unknown as Pushed;
    for (const op of ops) {
      const acked = this.acked.get(device_id) ?? 0;
      const landed = this.log.find((row) => row.op.op_id === op.op_id);
      const before = this.refused.get(op.op_id);
      if (op.device_seq > acked + 1) return problem(409, "seq_gap", { expected: acked + 1 });
      if (op.device_seq <= acked && !landed && !before) return problem(409, "device_forked");
      const code = this.refusal(op);
      if (landed) answer.duplicate.push({ op_id: op.op_id, seq: landed.seq });
      else if (before) answer.refused.push({ ...before, device_seq: op.device_seq });
      else if (code) {
        const { op_id, device_seq } = op;
        const said = { message: "No.", pointer: "" };
        const receipt: Refusal = {
          op_id,
          device_seq,
          code,
          ...said,
          // biome-ignore lint/suspicious/noThenProperty: the field's name on the wire
          then: "edit",
        };
        this.refused.set(op_id, receipt);
        answer.refused.push(receipt);
      } else answer.accepted.push({ op_id: op.op_id, seq: this.land(op) });
      this.acked.set(device_id, Math.max(acked, op.device_seq));
    }
    const acked_through = this.acked.get(device_id) ?? 0;
    const told = { epoch, acked_through, clamped: [], clock_offset_ms: 0, safe_seq: 0 };
    return json({ ...answer, ...told });
  }

  private land(op: Operation): number {
    const seq = (this.log.at(-1)?.seq ?? 0) + 1;
    this.log.push({ op, seq });
    if (op.kind !== SET_ASIDE) {
      const state = fold(this.states.get(op.entity_id), upcast(op));
      if (state) this.states.set(op.entity_id, state);
      this.seq_of.set(op.entity_id, seq);
    }
    return seq;
  }

  private after(seq: number): Change[] {
    return [...this.states.values()]
      .map((state) => ({ ...change_of_state(state), seq: this.seq_of.get(state.id) ?? 0 }))
      .filter((change) => change.seq > seq)
      .sort((a, b) => a.seq - b.seq);
  }

  private pull({ cursor = "", erase_seq = "0" }: Record<string, string>) {
    const seq = Number(cursor.split(".")[1]);
    if (cursor !== this.cursor(seq)) return this.epoch_changed("");
    const all = this.after(seq);
    const changes = all.slice(0, this.page);
    const more = changes.length < all.length;
    const end = more ? (changes.at(-1)?.seq ?? 0) : (this.log.at(-1)?.seq ?? 0);
    const head_seq = this.log.at(-1)?.seq ?? 0;
    const told = { ...this.told(erase_seq), changes, more, next: this.cursor(end), head_seq };
    return json({ ...told, acked_through: Number.MAX_SAFE_INTEGER });
  }

  private snapshot({ after = "", erase_seq = "0" }: Record<string, string>) {
    const [cursor = "", from = "0"] = after ? after.split("~") : [this.cursor(this.log.length)];
    if (!cursor.startsWith(`e${this.epoch}.`)) return this.epoch_changed("");
    const all = this.after(0);
    const to = Number(from) + this.page;
    const next = to < all.length ? `${cursor}~${to}` : null;
    const changes = all.slice(Number(from), to);
    return json({ ...this.told(erase_seq), changes, cursor, next, left: all.length - to });
  }

  private offer({ have }: { have: { entity_id: string; ops: string[] }[] }) {
    const known = new Set(this.log.map(({ op }) => op.op_id));
    const missing = have.flatMap(({ ops }) => ops).filter((op) => !known.has(op));
    return json({ missing, erased: this.erased });
  }

  private rescue({ changes }: { changes: Change[] }) {
    for (const change of changes) {
      this.states.set(change.entity_id, state_of_change(change, ""));
      const fields = {} as Operation;
      const seq = this.land({ ...fields, op_id: `rescued ${change.entity_id}`, kind: SET_ASIDE });
      this.seq_of.set(change.entity_id, seq);
    }
    return json({ taken: changes.length, erased: 0 });
  }

  private told(erase_seq: string) {
    const erased = this.erased.filter(({ n }) => n > Number(erase_seq));
    return { epoch: `e${this.epoch}`, erased };
  }

  private epoch_changed(device_id: string) {
    const acked_through = this.acked.get(device_id) ?? 0;
    return problem(409, "epoch_changed", { epoch: `e${this.epoch}`, acked_through });
  }
}

function sha256(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

/** Returns a refusal as the server words it. */
export function problem(status: number, code: string, needs: object = {}, headers = {}): Response {
  const body = JSON.stringify({ status, code, detail: `Said by the server: ${code}.`, ...needs });
  return new Response(body, { status, headers });
}

function json(body: unknown): Response {
  return new Response(JSON.stringify(body));
}

async function parsed(body: unknown, headers: unknown): Promise<unknown> {
  const packed = (headers as Record<string, string>)["content-encoding"] === "gzip";
  const bytes = new Blob([body as ArrayBuffer]).stream();
  const plain = packed ? bytes.pipeThrough(new DecompressionStream("gzip")) : bytes;
  return new Response(plain).json();
}
