// The calls to the salon's server. Every failure leaves here as one `Trouble`: the server's words,
// or that no answer came. In every case the waiting entries stay on this phone.

const LONGEST_CALL_MS = 30_000;
const PACKED_FROM_BYTES = 1024;
// The server refuses anything that unpacks to more than 50 times its size.
const MOST_PACKED = 40;
// RFC 9110, 15.6.3 and 15.6.5: bad gateway, and gateway timeout. Our server answers neither.
const BEHIND_A_PROXY: ReadonlySet<number> = new Set([502, 504]);

/** Why a call failed. */
export class Trouble extends Error {
  constructor(
    /** The HTTP status; 0 without an answer. */
    readonly status: number,
    /** "pairing_expired", "seq_gap" …; "no_answer" without one. */
    readonly code: string,
    sentence: string,
    readonly needs: Readonly<Needs> = {},
  ) {
    super(sentence);
  }
}

interface Needs {
  retry_after_ms?: number;
  expected?: number;
  epoch?: string;
  acked_through?: number;
  max_ops?: number;
  max_bytes?: number;
}

/** The server's address; the page's own origin unless set. */
export const server = { address: "" };

export interface Asked {
  token?: string;
  method?: "DELETE";
  body?: unknown;
  /** A body that is JSON already. */
  json?: string;
  /** A packed file in place of a body. */
  packed_file?: Uint8Array<ArrayBuffer>;
  /** For a long answer that is read as it comes. */
  signal?: AbortSignal;
  /** How long the whole answer may take, where that is not the longest of all. */
  within_ms?: number | undefined;
}

/** Returns the answer to a call, parsed. Throws `Trouble`. */
export async function call<Answer>(path: string, asked: Asked = {}): Promise<Answer> {
  const response = await reach(
    path,
    asked,
    AbortSignal.timeout(asked.within_ms ?? LONGEST_CALL_MS),
  );
  try {
    return (await response.json()) as Answer;
  } catch (cause) {
    throw no_answer(cause);
  }
}

/** Returns a response that began well. Throws `Trouble`. */
export async function reach(
  path: string,
  { token, method, body, json, packed_file }: Asked,
  signal: AbortSignal,
): Promise<Response> {
  const headers: Record<string, string> = token ? { authorization: `Bearer ${token}` } : {};
  const request: RequestInit = { headers, signal, cache: "no-store", ...(method && { method }) };
  const text = json ?? (body === undefined ? undefined : JSON.stringify(body));
  if (text !== undefined) {
    request.method = "POST";
    headers["content-type"] = "application/json";
    const plain = new TextEncoder().encode(text);
    const packed = await packed_or_undefined(plain);
    if (packed) headers["content-encoding"] = "gzip";
    request.body = packed ?? plain;
  }
  if (packed_file) {
    request.method = "POST";
    headers["content-type"] = "application/gzip";
    request.body = packed_file;
  }
  let response: Response;
  try {
    response = await fetch(server.address + path, request);
  } catch (cause) {
    throw no_answer(cause);
  }
  if (response.ok) return response;
  throw await trouble_of(response);
}

async function packed_or_undefined(
  plain: Uint8Array<ArrayBuffer>,
): Promise<Uint8Array<ArrayBuffer> | undefined> {
  if (plain.length < PACKED_FROM_BYTES || typeof CompressionStream === "undefined") return;
  const stream = new Response(plain).body?.pipeThrough(new CompressionStream("gzip"));
  const packed = new Uint8Array(await new Response(stream).arrayBuffer());
  return plain.length > packed.length * MOST_PACKED ? undefined : packed;
}

async function trouble_of(response: Response): Promise<Trouble> {
  const { status } = response;
  const wait_s = Number(response.headers.get("retry-after") ?? Number.NaN);
  const said = (await response.json().catch(() => undefined)) as
    | ({ code?: string; detail?: string } & Needs)
    | undefined;
  const { code = "", detail = "", ...needs } = said ?? {};
  // A proxy in front of the salon's server says so where that server is not there.
  if (!code && BEHIND_A_PROXY.has(status)) return no_answer(`a proxy answered ${status}`);
  return new Trouble(status, code, detail || `The server answered ${status}. We try again.`, {
    ...needs,
    ...(wait_s >= 0 && { retry_after_ms: wait_s * 1000 }),
  });
}

function no_answer(cause: unknown): Trouble {
  const trouble = new Trouble(0, "no_answer", "The salon’s server does not answer.");
  trouble.cause = cause;
  return trouble;
}

/** Throws `Trouble` where the server is not there, or is silent for `within_ms`. */
export async function find_server(within_ms?: number): Promise<void> {
  await call("/api/health", { within_ms });
}

/** Returns whether the server is there at all. */
export async function server_is_well(): Promise<boolean> {
  return find_server().then(
    () => true,
    () => false,
  );
}
