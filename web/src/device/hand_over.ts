// Hands a file over to the phone: it shares it, or downloads it.

const FORGET_MS = 60_000;

/** Offers a file; what a person turns down is no fault. */
export async function hand_over(file: File): Promise<void> {
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (why) {
      if (why instanceof DOMException && why.name === "AbortError") return;
    }
  }
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), FORGET_MS);
}
