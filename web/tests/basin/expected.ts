// What a zone must show, worked out a second time: from what was done to it, asked of the server
// past the page.
import type {
  Hair,
  JudgementReply,
  Mix,
  PredictionReply,
  Product,
  Reading,
  StripMinute,
  Window,
  Wish,
} from "../../src/api/shapes";

/** A look as the test took it. */
export interface Said {
  reading: Reading;
  trusted: boolean;
}

export interface Asked {
  hair: Hair;
  mix: Mix;
  wish: Wish;
  products: Product[];
}

export interface Expected {
  strip: StripMinute[];
  window: Window;
  look_again_min?: number;
  /** The look that is in doubt, if one is. */
  doubted?: Said;
}

const page_fetch = globalThis.fetch;
const known = new Map<string, Promise<unknown>>();

/** Asks the server past the page; the same question is asked once. */
export function directly<Reply>(server: string, path: string, request: unknown): Promise<Reply> {
  const body = JSON.stringify(request);
  const key = `${path} ${body}`;
  const before = known.get(key) as Promise<Reply> | undefined;
  if (before) return before;
  const headers = { "content-type": "application/json" };
  const answer = page_fetch(`${server}/api/${path}`, { method: "POST", headers, body }).then(
    async (reply) => {
      if (!reply.ok) throw new Error(`${path}: ${await reply.text()}`);
      return (await reply.json()) as Reply;
    },
  );
  known.set(key, answer);
  return answer;
}

/** Returns what a zone must show after these looks. */
export async function expected(server: string, asked: Asked, looks: Said[]): Promise<Expected> {
  if (looks.length === 0) {
    const { strip, window } = await directly<PredictionReply>(server, "predictions", asked);
    return { strip, window };
  }
  const request = { ...asked, readings: looks.map(({ reading }) => reading) };
  const reply = await directly<JudgementReply>(server, "judgements", request);
  const look = reply.surprise && looks[reply.surprise.reading];
  if (look && !look.trusted) {
    const others = looks.filter((other) => other !== look);
    return { ...(await expected(server, asked, others)), doubted: look };
  }
  const { strip, window, advice } = reply;
  const { at_minute } = advice;
  if ("reason" in window || at_minute === undefined) return { strip, window };
  if (advice.do === "look_again" || advice.do === "saturate_again") {
    return { strip, window, look_again_min: at_minute };
  }
  // The judgement may name an earlier minute that nobody could tell from the best.
  const best = at_minute >= window.earliest ? Math.min(window.best, at_minute) : window.best;
  return { strip, window: { ...window, best } };
}

/** Returns the order at a minute, by what the window means to a hand. */
export function order_by(
  { window, look_again_min: again }: Pick<Expected, "window" | "look_again_min">,
  minute: number,
): string {
  if ("reason" in window) return "Dry a strand";
  const { earliest, best } = window;
  if (minute >= best) return "Rinse now";
  if (again !== undefined && again < best) {
    if (minute < again) return `Wait ${until(Math.max(again, 0), earliest, minute)}`;
    return "Look again";
  }
  return minute < earliest ? `Wait ${Math.ceil(earliest - minute)}` : "Look again";
}

/** A look that comes before the window is waited for first; one inside it is all that is waited for. */
function until(again: number, earliest: number, minute: number): number {
  const next = again > earliest || earliest <= minute ? again : Math.min(again, earliest);
  return Math.ceil(next - minute);
}
