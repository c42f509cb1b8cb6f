// A file to choose, by a button like any other.

interface FileButtonProps {
  label: string;
  disabled?: boolean;
  /** The files the device offers: endings and media types. */
  accept?: string;
  onFile: (file: File) => Promise<void>;
}

/** Returns the button; choosing the same file again counts too. */
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
