// Photos to keep: small enough to send later, large enough to see a strand.
import { keep_blob } from "../records/write";

const MOST_BYTES = 300 * 1024;
const LONGEST_PX = 1600;

/** Keeps a photo scaled down to a record's size; returns its SHA-256. */
export async function keep_photo(photo: Blob): Promise<string> {
  return keep_blob(await scaled(photo));
}

/** Returns the photo as a JPEG of 300 KB at most; throws a sentence if it is no picture. */
async function scaled(photo: Blob): Promise<Blob> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(photo);
  } catch {
    throw new TypeError("This phone cannot read this picture. Take another.");
  }
  const longest = Math.max(picture.width, picture.height);
  for (let length = Math.min(longest, LONGEST_PX); ; length *= 0.75) {
    const made = await drawn(picture, length / longest);
    if (made.size <= MOST_BYTES || length < 200) return made;
  }
}

async function drawn(picture: ImageBitmap, scale: number): Promise<Blob> {
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((done, refused) =>
    canvas.toBlob(
      (blob) => (blob ? done(blob) : refused(new TypeError("This picture could not be kept."))),
      "image/jpeg",
      0.85,
    ),
  );
}
