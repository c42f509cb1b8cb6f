// Gets a photo for a screen, and loads the courier only when somebody looks at one.

/** Returns a photo, from this phone or from the desk; undefined if neither has it in reach. */
export async function photo_of(sha256: string): Promise<Blob | undefined> {
  const photos = await import("./photos");
  return photos.photo_of(sha256);
}
