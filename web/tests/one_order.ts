// One order for what happens at once, so that a seed decides all of it: calls to the server wait in
// a line and are answered one by one, each in its turn and only while the pages' code has nothing
// left to do. Neither the server's pace nor the machine's changes what comes first.
import { createHash } from "node:crypto";
import { gunzipSync, gzipSync } from "node:zlib";
import { vi } from "vitest";

/** A record's id, a device's or an operation's. */
const UUID = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;
const MOMENT = /\d{4}-\d\d-\d\dT[\d:.]+(Z|[+-]\d\d:\d\d)/g;
// The pages' code takes a turn of the event loop a step; its longest way has some dozens.
const TURNS = 200;

/** Waits until the pages' code waits for a call, or for nothing. */
async function all_is_quiet(): Promise<void> {
  for (let turn = 0; turn < TURNS; turn += 1) await new Promise((on) => setImmediate(on));
}

interface Waiting {
  due: number;
  answer: () => Promise<void>;
}

export class OneOrder {
  private line: Waiting[] = [];
  private now = 0;

  /** Stops the clock and all that rings: time goes on by `pass` alone. */
  constructor(private readonly begins_ms: number) {
    vi.useFakeTimers({
      now: begins_ms,
      toFake: ["Date", "setTimeout", "clearTimeout", "setInterval", "clearInterval"],
    });
    vi.spyOn(AbortSignal, "timeout").mockImplementation(() => new AbortController().signal);
    at_once();
  }

  end(): void {
    vi.useRealTimers();
    vi.unstubAllGlobals();
    vi.restoreAllMocks();
  }

  /** Puts a call into the line; it is made when its turn comes, so many seconds from now. */
  wait<T>(later_s: number, call: () => Promise<T>, signal?: AbortSignal | null): Promise<T> {
    if (signal?.aborted) return Promise.reject(signal.reason);
    return new Promise((answered, failed) => {
      const one = { due: this.now + later_s, answer: () => call().then(answered, failed) };
      this.line.push(one);
      signal?.addEventListener("abort", () => {
        this.line = this.line.filter((other) => other !== one);
        failed(signal.reason);
      });
    });
  }

  /** Does an act to its end, or until `most` calls were answered; says whether it ended. */
  async carry(act: Promise<unknown>, most = Number.POSITIVE_INFINITY): Promise<boolean> {
    let ended = false;
    const over = () => {
      ended = true;
    };
    act.then(over, over);
    for (let calls = 0; ; ) {
      await all_is_quiet();
      if (ended) {
        await act;
        return true;
      }
      if (calls >= most) return false;
      if (this.line.length > 0) {
        calls += 1;
        await this.answer_next();
      }
    }
  }

  /** Lets seconds pass, with all calls that are answered within them. */
  async pass(seconds: number): Promise<void> {
    this.now += seconds;
    vi.setSystemTime(this.begins_ms + this.now * 1000);
    await all_is_quiet();
    while (this.line.some(({ due }) => due <= this.now)) {
      await this.answer_next();
      await all_is_quiet();
    }
  }

  private async answer_next(): Promise<void> {
    const next = this.line.reduce((first, other) => (other.due < first.due ? other : first));
    this.line = this.line.filter((other) => other !== next);
    await next.answer();
  }
}

/** Lets hashes and packing be done at once: in threads of their own they end when they end. */
function at_once(): void {
  vi.spyOn(crypto.subtle, "digest").mockImplementation(async (how, bytes) => {
    const name = String(how).replace("-", "").toLowerCase();
    const view = ArrayBuffer.isView(bytes)
      ? new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength)
      : new Uint8Array(bytes);
    return new Uint8Array(createHash(name).update(view).digest()).buffer;
  });
  const whole_by = (act: (whole: Buffer) => Buffer) =>
    class extends TransformStream<Uint8Array, Uint8Array> {
      constructor() {
        const parts: Uint8Array[] = [];
        super({
          transform: (part) => void parts.push(part),
          flush: (out) => out.enqueue(new Uint8Array(act(Buffer.concat(parts)))),
        });
      }
    };
  vi.stubGlobal("CompressionStream", whole_by(gzipSync));
  vi.stubGlobal("DecompressionStream", whole_by(gunzipSync));
}

/** Returns a text with each id in it as its number, counted as they come, and with no moments. */
export function told(lines: readonly string[]): string {
  const numbers = new Map<string, number>();
  return lines
    .join("\n")
    .replace(MOMENT, "then")
    .replace(UUID, (id) => {
      if (!numbers.has(id)) numbers.set(id, numbers.size + 1);
      return `#${numbers.get(id)}`;
    });
}
