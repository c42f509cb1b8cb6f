// The strip of the opening screen: an invented head that plays its minutes once.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import "./home.css";
import told from "./home_strip.generated.json";

const { earliest, best, latest } = told.window;
const COUNT = told.minutes.length;
const LAST = COUNT - 1;
const PLAY_MS = 4000;
/** Where it rests before it was asked to play. */
const STILL_MINUTE = 12;
const LANES = ["on the head", "wiped", "dry, if rinsed"] as const;
/** How high a cell is, its cooler and its warmer edge included, in cells of the painted picture. */
const [CELL, EDGE] = [12, 1];

/** An invented head over its 20 minutes, from the engine's own answer, kept with the page. */
export function LivingStrip() {
  const { minute, over, play } = use_played();
  const at = { "--at": (minute + 0.5) / COUNT };
  return (
    <figure
      aria-label={`An invented head over ${LAST} minutes: rinse from ${earliest}, best ${best}, by ${latest}.`}
    >
      <div class="home-lanes" data-minute={minute} data-over={over} aria-hidden="true" style={at}>
        <span class="home-minute">minute {minute}</span>
        {LANES.map((name, lane) => (
          <Lane key={name} name={name} lane={lane} through={over ? LAST : minute} />
        ))}
        <span class="home-now" />
        <Bracket />
      </div>
      <figcaption>
        <p>
          Wet, it {told.wet}. Dry, it is {told.dry}.
        </p>
        <button type="button" onClick={play}>
          Play again
        </button>
      </figcaption>
    </figure>
  );
}

function Lane({ name, lane, through }: { name: string; lane: number; through: number }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => {
    const paint = canvas.current?.getContext("2d");
    if (!paint) return;
    paint.clearRect(0, 0, COUNT, CELL);
    told.minutes.slice(0, through + 1).forEach((colours, minute) => {
      const [cooler, own, warmer] = colours[lane]?.match(/.{6}/g) ?? [];
      for (const [colour, top, height] of [
        [own, 0, CELL],
        [cooler, 0, EDGE],
        [warmer, CELL - EDGE, EDGE],
      ] as const) {
        paint.fillStyle = `#${colour}`;
        paint.fillRect(minute, top, 1, height);
      }
    });
  }, [lane, through]);
  return (
    <>
      <span class="home-lane-name">{name}</span>
      <canvas ref={canvas} class={`home-lane home-lane-${lane}`} width={COUNT} height={CELL} />
    </>
  );
}

function Bracket() {
  const at = (minute: number) => ({ "--from": minute / COUNT });
  return (
    <span class="home-window">
      <span class="home-bracket" style={{ ...at(earliest), "--to": (latest + 1) / COUNT }} />
      <span style={at(earliest + 0.5)}>{earliest}</span>
      <span style={at(best + 0.5)}>best {best}</span>
      <span style={at(latest + 0.5)}>{latest}</span>
    </span>
  );
}

/** Whether it was played since the page was opened: it plays by itself once. */
let was_played = false;

/** The minute that is played, and again on asking; at rest where nothing may move. */
function use_played() {
  const at_rest = was_played || matchMedia("(prefers-reduced-motion: reduce)").matches;
  const [minute, put] = useState(at_rest ? STILL_MINUTE : 0);
  const [over, end] = useState(at_rest);
  const [turn, take_turn] = useState(0);
  useEffect(() => {
    if (at_rest && turn === 0) return;
    was_played = true;
    end(false);
    let now = 0;
    put(0);
    const beat = setInterval(() => {
      now += 1;
      // Then it rests at the best minute, with all of it in sight.
      if (now <= LAST) return put(now);
      clearInterval(beat);
      put(best);
      end(true);
    }, PLAY_MS / LAST);
    return () => clearInterval(beat);
  }, [turn]);
  return { minute, over, play: () => take_turn(turn + 1) };
}
