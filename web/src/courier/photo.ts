// A photo for a screen, without the courier's weight before one is looked at.

/** Returns a photo, from this phone or from the desk; undefined where neither has it in reach. */
export async function photo_of(sha256: string): Promise<Blob | undefined> {
  const photos = await import("./photos");
  return photos.photo_of(sha256);
}
