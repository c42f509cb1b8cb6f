// Which modules go into one file: those that a place needs at the same moment.
//
// A file costs a round trip on a slow link, and a request, an entry in the cache and a compilation
// on every phone. What one screen shows together therefore comes together; what only another
// screen, or a later moment of the same one, needs stays apart, so that no place waits for it.

/** A file: its name, and the modules under src/ that it holds: how their paths begin. */
type Together = readonly [name: string, ...paths: readonly string[]];

/**
 * The files, but for `shell`: that one holds all that the page itself imports, and goes first.
 *
 * An earlier row goes before a later one. It takes with it what its modules import, so what two
 * rows share has a row of its own above them. `pytest -k sixty` says what each place then weighs.
 */
export const FILES: readonly Together[] = [
  // The small parts that most places show as they open.
  [
    "parts",
    "salon/(clients|notes|salon_name|service/(mixed|readings))\\.",
    "gate/(state|held)\\.",
    "(engine/where|device/shared)",
    "parts/(choice/index|text/index|notice|meant|names|counted|rows|file|patch|stepper/index)",
  ],
  // How colours are said and stepped through: hair, wishes and formulas need it.
  ["colour", "colour\\.", "salon/(formulas|bowl_rows)"],
  ["caution", "parts/caution"],
  ["tones", "references/", "parts/(number|tones|stepper|levels/stepper)"],
  // What a record's page shows as it opens, and a service later.
  ["kept_parts", "parts/(kept_back|photo)", "salon/photos", "courier/photo\\."],
  ["next_visit", "parts/next_visit", "salon/service/next_visit"],
  ["alert_tests", "salon/alert_tests/alert_tests", "prediction/held"],
  ["who", "parts/(who|signed)/"],
  ["start", "salon/service/(start|zone_acts)"],
  // Fields that only some forms have.
  ["fields", "parts/(hold|offer|settled|text|paper|measured)", "salon/alert_tests/from_paper"],
  // What comes on every place once it is open.
  [
    "everywhere",
    "prediction/(everywhere|watch|settle)",
    "pages/(once_open|due_ringing|launched)",
    "offline/shared_in",
    "records/(typed|checks)",
  ],
  ["put_forward", "gate/(put_forward|wanted)"],
  ["gate", "gate/(clients|asked|review|answer)", "salon/service/answers"],
  ["link", "courier/(state|tray|acts|pair|call|position)\\."],
  ["matters", "courier/matters", "salon/record_words"],
  ["ahead", "gate/(ahead|booking)", "salon/alert_tests/due", "screens/today/ahead"],
  [
    "today_after",
    "screens/today/(acts|alert_tests_line|calendar_out|never_begun|shared_line|signal|watch_held|who_once)",
    "salon/calendar/(days|day_out)",
  ],
  [
    "settings",
    "screens/settings/(?!filing)",
    "offline/install_words",
    "gate/each_time",
    "salon/alert_tests/terms",
  ],
  [
    "floor",
    "pages/desk",
    "screens/desk/(?!phone_file|backup|remove_phone|let_in)",
    "courier/(search|devices)",
    "salon/search",
  ],
  ["sections", "bench/(no_mix|whole_wish)", "parts/fold", "pages/sections"],
  // The hair in front of you: the first that is asked, for nobody and in a service.
  [
    "hair",
    "screens/hair/(actions|index|shown)",
    "screens/wish/shown",
    "pages/colours_shown",
    "parts/levels/index",
    "engine/faults",
    "screens/(mix|strip)/actions",
  ],
  ["try", "pages/try", "screens/strip/minutes"],
  // A service as it opens; then what its end, or its running clock, needs at once.
  [
    "service",
    "screens/basin/state",
    "pages/service/(watch|zone|index|first_section|rinse|whole|safety|sections|step)\\.",
    "salon/service/gloves",
    "screens/(gloves|in_hands)/",
    "screens/today/planned_at",
    "screens/zones/index",
  ],
  [
    "running",
    "prediction/live",
    "screens/strip/live",
    "pages/service/on_the_head",
    "parts/big_order",
  ],
  [
    "result",
    "screens/judge/(dried|tip|words)\\.",
    "screens/result/(actions|index)",
    "pages/service/result",
    "salon/service/looks",
  ],
  // The wish, what to mix, and the strip.
  [
    "mix",
    "screens/wish/(second_tone|actions|more|index)",
    "screens/mix/",
    "screens/strip/",
    "screens/formulas/keep",
    "screens/hair/(more|others)",
    "screens/start",
    "parts/(edges|strip)",
    "pages/keep_chosen",
    "salon/service/tried",
  ],
  // The rest of a service, in the order in which a visit comes to it.
  [
    "visit",
    "pages/service/",
    "screens/(basin|safety|order|note|judge|mend|result|zones|weigh)/",
    "parts/(order|ladder)",
    "salon/service/(begin|weighed|wrong_tube)",
  ],
];

/** Returns the groups of files as the bundler takes them. */
export function files_together() {
  const shell = { name: "shell", tags: ["$initial" as const], priority: FILES.length + 1 };
  const later = FILES.map(([name, ...paths], at) => ({
    name,
    test: new RegExp(`/web/src/(${paths.join("|")})`),
    priority: FILES.length - at,
  }));
  return [shell, ...later];
}
