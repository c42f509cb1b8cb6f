// A photo taken or chosen, by one large tap.
import "./style.css";

interface TakePhotoProps {
  words: string;
  onPhoto: (photo: Blob) => void;
}

/** Returns the tap; the phone opens its camera or its pictures. */
export function TakePhoto({ words, onPhoto }: TakePhotoProps) {
  return (
    <label class="button take-photo">
      {words}
      <input
        type="file"
        class="unseen"
        accept="image/*"
        capture="environment"
        onChange={(event) => {
          const [photo] = event.currentTarget.files ?? [];
          if (photo) onPhoto(photo);
        }}
      />
    </label>
  );
}
