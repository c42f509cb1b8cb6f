// A way to the server that loses calls, breaks answers off, holds them back and brings them late.
import type { SafetyReviewReply, ServiceReviewRequest } from "../../src/api/shapes";
import type { OneOrder } from "../one_order";

export type Chance = () => number;
const MODES = ["lost", "broken off", "not ours", "down", "refused", "late", "too late"] as const;
type Mode = "fine" | (typeof MODES)[number];

/** Random numbers from a seed: mulberry32, in the public domain (T. Ettinger, 2017; from memory). */
export function chance_of(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Returns a question as text without its moment: equal text is the same question. */
export function but_for_time(request: ServiceReviewRequest): string {
  const { now: _, ...rest } = request;
  return JSON.stringify(rest);
}

export const LATEST_S = 4;
const page_fetch = globalThis.fetch;

/** Takes the place of `fetch`; `told` keeps what the server has said to each question. */
export class Calls {
  readonly told = new Map<string, SafetyReviewReply>();
  /** What became of each call, in words. */
  readonly went: string[] = [];
  is_bad = false;

  constructor(
    readonly address: string,
    readonly chance: Chance,
    private readonly order: OneOrder,
  ) {}

  /** Asks the server past all that goes wrong. */
  async directly(request: ServiceReviewRequest): Promise<SafetyReviewReply> {
    return this.order.wait(0, async () => {
      const answer = await page_fetch(`${this.address}/api/safety/services`, sending(request));
      return (await answer.json()) as SafetyReviewReply;
    });
  }

  readonly fetch = (path: unknown, init: RequestInit = {}): Promise<Response> => {
    const mode = this.mode();
    const is_late = mode === "late" || mode === "too late";
    const later_s = is_late ? 1 + Math.floor(this.chance() * LATEST_S) : 0;
    // An answer that comes too late goes to nobody: the caller has given up.
    const signal = mode === "too late" ? null : init.signal;
    return this.order.wait(later_s, () => this.answer(mode, path, init), signal);
  };

  private async answer(mode: Mode, path: unknown, init: RequestInit): Promise<Response> {
    this.went.push(mode);
    if (mode === "lost") throw new TypeError("no way");
    if (mode === "not ours") return new Response("<p>Sign in here</p>");
    if (mode === "down") return new Response("{}", { status: 503 });
    if (mode === "refused") {
      const said = { detail: "Said otherwise.", errors: [] };
      return new Response(JSON.stringify(said), { status: 422 });
    }
    const { signal: _, ...heedless } = init;
    const answer = await page_fetch(`${this.address}${path}`, heedless);
    const text = await answer.text();
    if (mode === "broken off") return new Response(text.slice(0, text.length / 2));
    const request = JSON.parse(String(init.body)) as ServiceReviewRequest;
    if (answer.status === 200) this.told.set(but_for_time(request), JSON.parse(text));
    this.went.push(text);
    return new Response(text, { status: answer.status });
  }

  private mode(): Mode {
    const draw = this.chance();
    if (draw > (this.is_bad ? 0.8 : 0.15)) return "fine";
    if (!this.is_bad) return draw > 0.05 ? "late" : "too late";
    return MODES[Math.floor(this.chance() * MODES.length)] ?? "lost";
  }
}

function sending(request: ServiceReviewRequest): RequestInit {
  const headers = { "content-type": "application/json" };
  return { method: "POST", headers, body: JSON.stringify(request) };
}
