// A file to choose, by a button like any other.

interface FileButtonProps {
  label: string;
  disabled?: boolean;
  /** What the device offers to choose from: endings and media types. */
  accept?: string;
  onFile: (file: File) => Promise<void>;
}

/** Returns the button; the same file chosen again is a choice too. */
export function FileButton({ label, disabled = false, accept, onFile }: FileButtonProps) {
  return (
    <label class="button">
      {label}
      <input
        type="file"
        class="unseen"
        disabled={disabled}
        accept={accept}
        onChange={(event) => {
          const field = event.currentTarget;
          const [file] = field.files ?? [];
          if (file) void onFile(file).finally(() => (field.value = ""));
        }}
      />
    </label>
  );
}
