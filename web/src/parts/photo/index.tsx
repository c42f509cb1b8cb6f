// A kept photo, on the grey surround like every colour.
import { useEffect, useState } from "preact/hooks";
import "./style.css";

interface PhotoProps {
  sha256: string;
  words: string;
  blob_of: (sha256: string) => Promise<Blob | undefined>;
}

const AGAIN_MS = 2000;
const MOST_WAIT_MS = 60_000;

/** Returns the photo, or a sentence that it is not here; a later one shows when it comes. */
export function Photo({ sha256, words, blob_of }: PhotoProps) {
  const [url, show] = useState<string | null>("");
  useEffect(() => {
    let made = "";
    let ended = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const look = async (wait_ms: number): Promise<void> => {
      const blob = await blob_of(sha256);
      if (ended) return;
      made = blob ? URL.createObjectURL(blob) : "";
      show(made || null);
      if (!made) timer = setTimeout(look, wait_ms, Math.min(MOST_WAIT_MS, 2 * wait_ms));
    };
    void look(AGAIN_MS);
    return () => {
      ended = true;
      clearTimeout(timer);
      URL.revokeObjectURL(made);
    };
  }, [sha256, blob_of]);
  if (url === null) return <p class="quiet">This photo is not here yet.</p>;
  return <div class="photo">{url && <img src={url} alt={words} />}</div>;
}
