// Opens pictures and tables off the page's thread: a picture of 12 megapixels takes a while.
import { read_photo } from "./read_photo";
import type { Marks, PhotoReply, Pixels } from "./shapes";

export type ToReader =
  | { readonly id: number; readonly open: Blob }
  | { readonly id: number; readonly read: Marks };
export type Opened = { readonly width: number; readonly height: number };
export type FromReader =
  | { readonly id: number; readonly opened: Opened }
  | { readonly id: number; readonly reply: PhotoReply }
  | { readonly id: number; readonly failed: string };

/** Longer pictures are made smaller: a canvas of more is not to be had on every phone. */
const LONGEST = 2400;

let pixels: Pixels | undefined;

addEventListener("message", async ({ data: told }: MessageEvent<ToReader>) => {
  const { id } = told;
  try {
    if ("open" in told) {
      pixels = await pixels_of(told.open);
      say({ id, opened: { width: pixels.width, height: pixels.height } });
    } else if (pixels) say({ id, reply: read_photo(pixels, told.read) });
    else say({ id, failed: "Choose a picture first." });
  } catch (why) {
    say({ id, failed: why instanceof Error ? why.message : String(why) });
  }
});

function say(message: FromReader): void {
  postMessage(message);
}

/** Decodes a file as it is meant to be seen: turned upright, in sRGB, without an HDR map. */
async function pixels_of(file: Blob): Promise<Pixels> {
  const bitmap = await createImageBitmap(file, {
    colorSpaceConversion: "default",
    imageOrientation: "from-image",
  }).catch((cause: unknown) => {
    throw new Error("This file is no picture that the browser can open. Choose a JPEG or PNG.", {
      cause,
    });
  });
  const share = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  const [width, height] = [Math.round(bitmap.width * share), Math.round(bitmap.height * share)];
  const canvas = new OffscreenCanvas(width, height);
  const drawing = canvas.getContext("2d", { colorSpace: "srgb", willReadFrequently: true });
  if (!drawing) throw new Error("This browser cannot read a picture's colours. Try another one.");
  drawing.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return drawing.getImageData(0, 0, width, height, { colorSpace: "srgb" });
}
