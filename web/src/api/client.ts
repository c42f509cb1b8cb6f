// The one door to the network. Every failure leaves here as one of two errors, each a sentence a
// colourist can act on: the server refused the question, or no answer came.
import type { Fault, Problem } from "./shapes";

/** The server read the question and refused it; `faults` name the places. */
export class Refused extends Error {
  constructor(
    sentence: string,
    readonly faults: readonly Fault[],
  ) {
    super(sentence);
  }
}

/** No answer came: no signal, no server, or something that is not ours in between. */
export class NoAnswer extends Error {}

const OUT_OF_REACH =
  "The server does not answer. Check the signal. What you entered is kept on this phone.";

/**
 * Returns the reply to one request, parsed.
 *
 * Throws `Refused`, `NoAnswer`, or the reason `signal` was aborted with.
 */
export async function send<Reply>(
  path: string,
  { body, signal }: { body?: unknown; signal?: AbortSignal } = {},
): Promise<Reply> {
  const response = await reach(path, body, signal);
  const text = await response.text().catch((cause: unknown) => {
    signal?.throwIfAborted();
    throw new NoAnswer(OUT_OF_REACH, { cause });
  });
  return read_reply(response.status, text);
}

/** Returns a reply parsed, from any source. Throws `Refused`, or `NoAnswer` for no reply. */
export function read_reply<Reply>(status: number, text: string): Reply {
  const parsed = parse(text);
  if (status >= 200 && status < 300 && parsed !== undefined) return parsed as Reply;
  if (isProblem(parsed) && status < 500) throw new Refused(parsed.detail, parsed.errors);
  throw new NoAnswer(
    `The server answers, but not to this question (${status}). Ask again in a moment. ` +
      "What you entered is kept on this phone.",
  );
}

async function reach(path: string, body: unknown, signal?: AbortSignal): Promise<Response> {
  try {
    return await fetch(path, {
      ...(signal && { signal }),
      ...(body !== undefined && {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify(body),
      }),
    });
  } catch (cause) {
    signal?.throwIfAborted();
    throw new NoAnswer(OUT_OF_REACH, { cause });
  }
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isProblem(parsed: unknown): parsed is Problem {
  const problem = parsed as Problem | null | undefined;
  return typeof problem?.detail === "string" && Array.isArray(problem.errors);
}
