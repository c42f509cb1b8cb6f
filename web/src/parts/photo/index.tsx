// A photo that was kept, shown on the grey surround as every colour is.
import { useEffect, useState } from "preact/hooks";
import "./style.css";

interface PhotoProps {
  sha256: string;
  words: string;
  blob_of: (sha256: string) => Promise<Blob | undefined>;
}

/** Returns the photo, or in words that it is not on this phone. */
export function Photo({ sha256, words, blob_of }: PhotoProps) {
  const [url, show] = useState<string | null>("");
  useEffect(() => {
    let made = "";
    void blob_of(sha256).then((blob) => {
      made = blob ? URL.createObjectURL(blob) : "";
      show(made || null);
    });
    return () => URL.revokeObjectURL(made);
  }, [sha256, blob_of]);
  if (url === null) return <p class="quiet">This photo is not here yet.</p>;
  return <div class="photo">{url && <img src={url} alt={words} />}</div>;
}
