// The one way to read colours from a photo: a worker opens it, keeps its pixels and reads marks.
import type { Marks, PhotoReply } from "./shapes";
import type { FromReader, Opened, ToReader } from "./worker";

export type * from "./shapes";
export type { Opened } from "./worker";

type Answer = Exclude<FromReader, { failed: string }>;
type Asked = ToReader extends infer Told
  ? Told extends { id: number }
    ? Omit<Told, "id">
    : never
  : never;

export interface PhotoReader {
  /** Opens a picture. Marks are in pixels of the size it returns, which may be smaller. */
  open(file: Blob): Promise<Opened>;
  /** Reads the marked strands of the open picture, or says why not. */
  read(marks: Marks): Promise<PhotoReply>;
  /** Ends the worker; what was asked then fails. */
  close(): void;
}

/** Starts a reader. Each promise fails with an `Error` whose message is a sentence for a person. */
export function photo_reader(): PhotoReader {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const waiting = new Map<number, { done(answer: Answer): void; fail(why: Error): void }>();
  let last = 0;
  const fail_all = (why: string) => {
    for (const { fail } of waiting.values()) fail(new Error(why));
    waiting.clear();
  };
  worker.onmessage = ({ data: said }: MessageEvent<FromReader>) => {
    const asker = waiting.get(said.id);
    waiting.delete(said.id);
    if ("failed" in said) asker?.fail(new Error(said.failed));
    else asker?.done(said);
  };
  worker.onerror = () => fail_all("This browser could not read the picture. Open the page again.");
  const ask = (asked: Asked) =>
    new Promise<Answer>((done, fail) => {
      last += 1;
      waiting.set(last, { done, fail });
      worker.postMessage({ id: last, ...asked });
    });
  return {
    async open(file) {
      const answer = await ask({ open: file });
      if (!("opened" in answer)) throw new Error("The reader answered another question.");
      return answer.opened;
    },
    async read(marks) {
      const answer = await ask({ read: marks });
      if (!("reply" in answer)) throw new Error("The reader answered another question.");
      return answer.reply;
    },
    close() {
      worker.terminate();
      fail_all("The picture was closed.");
    },
  };
}
