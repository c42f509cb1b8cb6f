// Files that another program gave to the app, until each is used or put away.
import { computed } from "@preact/signals";
import { SHARED, type SharedFile } from "../offline/from_worker";
import { ANYBODY, forget_typed, forms } from "./typed";

export type WaitingFile = SharedFile & {
  /** The form that holds it. */
  form: string;
};

/** The files that wait, the one that came first on top. */
export const waiting_files = computed<readonly WaitingFile[]>(() =>
  [...forms.value]
    .flatMap(([key, file]) => {
      const [, form = "", about] = key.split("/");
      const is_one = form.startsWith(`${SHARED} `) && about === ANYBODY;
      return is_one ? [{ ...(file as SharedFile), form }] : [];
    })
    .sort((a, b) => a.form.localeCompare(b.form, "en", { numeric: true })),
);

/** Returns the first file of a kind that waits. */
export function waiting_file(kind: SharedFile["kind"]): WaitingFile | undefined {
  return waiting_files.value.find((file) => file.kind === kind);
}

/** Returns it as a file again. */
export function unpacked({ name, type, data }: SharedFile): File {
  return new File([Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0))], name, { type });
}

/** Lets it go: somebody has used it, or has put it away. */
export function put_away({ form }: WaitingFile): void {
  forget_typed(form, ANYBODY);
}
