// A look said in numbers.
import { lab_of } from "../../bench/requests";
import { useTyped } from "../../device/typed";
import { Choice } from "../../parts/choice";
import { Measured, NO_READING } from "../../parts/measured";

interface MeasuredLookProps {
  /** The look and the record under which a half-typed reading is kept. */
  form: string;
  about: string;
  words: string;
  onLab: (lab: [number, number, number], source: "instrument" | "photo") => void;
}

/** Returns the way to say a look in numbers. */
export function MeasuredLook({ form, about, words, onLab }: MeasuredLookProps) {
  const [typed, put, forget] = useTyped(form, about, {
    lab: NO_READING,
    source: "instrument" as "instrument" | "photo",
  });
  return (
    <Measured
      lab_of={lab_of}
      words={words}
      typed={typed.lab}
      onType={(lab) => put({ ...typed, lab })}
      onLab={(lab) => {
        onLab(lab, typed.source);
        forget();
      }}
    >
      <Choice
        legend="Measured by"
        options={[
          ["instrument", "an instrument"],
          ["photo", "a photo with a grey card"],
        ]}
        value={typed.source}
        onChoose={(source) => put({ ...typed, source })}
      />
    </Measured>
  );
}
