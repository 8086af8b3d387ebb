/** A stretch of spectrum; both edges belong to it. */
export interface Stretch {
  low_hz: number;
  high_hz: number;
  why: string;
}

/** Somebody else's carrier. */
export interface Foreign {
  label: string;
  carrier_hz: number;
  protected: boolean;
}

/** How carriers are chosen; `null` means not looked at. */
export interface Rules {
  spacing_hz: number;
  two_transmitter_3_hz: number | null;
  three_transmitter_3_hz: number | null;
  two_transmitter_5_hz: number | null;
  three_transmitter_5_hz: number | null;
  two_transmitter_7_hz: number | null;
  spares: number;
  unheard: 'avoid' | 'allow';
  busy_over_floor_db: number;
}

export interface LinkView {
  label: string;
  note: string;
  /** Carriers that all ends can be set to; 0 if they never meet. */
  carriers: number;
  /** The lowest of them. */
  low_hz: number | null;
  high_hz: number | null;
  /** Carriers that the receiver alone can be set to. */
  receiver_carriers: number;
  transmitters: { label: string; kind: 'body-worn' | 'plug-on' | 'handheld' }[];
}

/** What is in a shoot. */
export interface ShootView {
  name: string;
  note: string;
  links: LinkView[];
  foreign: Foreign[];
  permits: Stretch[];
  blocked: Stretch[];
  multiplexes: { channel: string; low_hz: number; high_hz: number }[];
  rules: Rules;
  /** From the lowest to the highest carrier of all links. */
  span: { low_hz: number; high_hz: number } | null;
  /** To be shown where spectrum is chosen. */
  caution: string;
}

/** How far a plan has come. */
export interface Progress {
  stage: 'links' | 'spares' | 'quieter' | 'roomier' | 'loosen' | 'done';
  /** Carriers tried so far. */
  nodes: number;
  /** Links that the best plan so far has a carrier for. */
  seated: number;
  wanted: number;
}

/** A finished plan. */
export interface Report {
  status: 'complete' | 'infeasible' | 'budget-spent';
  proved: boolean;
  /** The answer in one sentence. */
  answer: string;
  /** One a link, in the shoot's order. */
  carriers: { label: string; carrier_hz: number | null; spares: number[] }[];
  spares: 'together' | 'one-at-a-time' | 'not-asked';
  /** How near the nearest comes; `null` where there is none or it is not looked at. */
  clearance: {
    carrier_hz: number | null;
    two_transmitter_3_hz: number | null;
    three_transmitter_3_hz: number | null;
    two_transmitter_5_hz: number | null;
    three_transmitter_5_hz: number | null;
    two_transmitter_7_hz: number | null;
  };
  /** What an independent check found wrong; all zero in a plan. */
  found: { hits: number; breaches: number; barred: number };
  nodes: number;
  /** Loosenings that would let every link have a carrier, least harmful first. */
  relaxations: string[];
  undecided: string[];
  warnings: string[];
}

/** What frequencies are counted in where a file does not say it itself. */
export interface BareUnits {
  frequency?: 'hz' | 'khz' | 'mhz' | 'ghz';
}

/** How much was read and heard. */
export interface AirSummary {
  lines_read: number;
  lines_refused: number;
  readings: number;
  /** The first twenty: line, column, text, remedy. */
  complaints: string[];
  heard_low_hz: number | null;
  heard_high_hz: number | null;
  /** The noise floor on the sweep's own scale. */
  floor_db: number | null;
  cells: number;
  heard_cells: number;
  /** How often every heard cell was passed, at least. */
  passes: number;
}

/** What was heard, column by column of a picture. */
export interface AirTrace {
  /** The loudest in each column; NaN where nothing was measured. */
  max: Float32Array;
  /** 1 where all of the column was measured. */
  heard: Uint8Array;
  floor_db: number | null;
}

/** The nearest open carriers. */
export interface Nearest {
  below_hz: number | null;
  above_hz: number | null;
}

/** A product that lands on a carrier. */
export interface HitView {
  text: string;
  product_hz: number;
  victim: string;
  victim_hz: number;
  sources: { label: string; hz: number }[];
}

/** A product and how far the nearest carrier is that must be kept clear of it. */
export interface ProductView {
  product_hz: number;
  /** Its arithmetic, such as "2A-B". */
  kind: string;
  nearest_hz: number | null;
  hit: boolean;
}

/** The run sheet: texts that are ready to be shown. */
export interface SheetView {
  title: string;
  made_for: string;
  rows: {
    link: string;
    note: string;
    /** Megahertz, without the unit; empty if there is none. */
    carrier: string;
    spares: string[];
    transmitters: string[];
    /** Which of them are live, and proved since when. */
    live: string[];
    levels: string[];
    /** When cells are due. */
    cells: string[];
    caution: string | null;
  }[];
  foreign: { label: string; carrier: string }[];
  lines: string[];
  /** Takes and what happened, with their times. */
  log: string[];
  cautions: string[];
}

/** What is set, live and proved. */
export interface PairingView {
  links: {
    label: string;
    /** One transmitter is live and proved, and nothing is wrong. */
    ready: boolean;
    planned_hz: number | null;
    receiver_hz: number | null;
    transmitters: {
      label: string;
      set_hz: number | null;
      live: 'unknown' | 'off' | 'on';
      confirmed: boolean;
      /** Minutes since midnight. */
      confirmed_min: number | null;
    }[];
    /** What a swap that goes on asks for next. */
    swap: string | null;
  }[];
  /** The walk through all of it; each with what can be tapped, the good end first. */
  steps: { text: string; done: boolean; link: number | null; dial_hz: number | null; taps: [string, object][] }[];
  warnings: { text: string; loud: boolean; links: number[] }[];
}

/** How far a link reaches. */
export interface ReachView {
  link: string;
  answer: string;
  sure_m: number | null;
  maybe_m: number | null;
  turned_m: number | null;
  /** Whether its noise is what the sweep heard at this very carrier. */
  heard: boolean;
  noise_dbm: number | null;
  fade_margin_db: number | null;
  /** What raises it most for the least effort, best first. */
  helps: string[];
  /** A quarter of a wave. */
  antenna_m: number;
  /** How far two antennas of one receiver should stand apart. */
  apart_m: number;
  /** Radius of the space that has to be free half way to the sure distance. */
  fresnel_m: number;
}

/** The cells of a device. */
export interface CellsView {
  link: string;
  transmitter: string | null;
  run_min: number | null;
  too_cold: boolean;
  answer: string;
  /** Minutes since midnight, and whether it falls into a take. */
  changes: [number, boolean][];
  bring: number | null;
  cares: string[];
}

/** A check of the fault finder. */
export interface Question {
  check: string;
  words: string;
  seconds: number;
  place: string;
  touch: string;
  caution: string | null;
}

/** What the fault finder shows. */
export interface TroubleView {
  report: {
    step: 'notice' | 'ask' | 'mend' | 'try-first' | 'prove';
    answer: string;
    ask: Question | null;
    at_the_pause: Question | null;
    standing: { cause: string; words: string; word: string; speaks_for: string[]; speaks_against: string[] }[];
    remedies: { cause: string; advice: string; tool: string; stops_the_take: boolean; caution: string | null }[];
    contradiction: string | null;
    clues: string[];
    said: string[];
  };
  /** The first spare of the link against which nothing speaks now. */
  spare_hz: number | null;
  /** The spares before it, and why not. */
  refused: string[];
}

export interface Kind {
  name: string;
  source: string;
  device: any;
}

/** Typical devices; every figure may be changed. */
export interface DeviceKinds {
  microphones: Kind[];
  transmitters: Kind[];
  receivers: Kind[];
  inputs: Kind[];
  chain: any;
}

export interface Settings {
  transmitter_db: number;
  receiver_db: number;
  input_db: number;
}

export interface Rung {
  stage: string;
  unit: string;
  floor: number;
  quiet: number;
  average: number;
  talk: number;
  loud: number;
  ceiling: number | null;
  headroom: number;
  noise_in_file: number | null;
}

/** A chain at some settings. */
export interface LevelsView {
  settings: Settings;
  best: { settings: Settings; complaints: object[] };
  diagram: { rungs: Rung[]; first_to_clip: string; room: number; noisiest: string; speech_to_noise: number; quiet_to_noise: number; peak_dbfs: number; average_rms_dbfs: number };
  stages: string[];
  first_to_clip: string;
  noisiest: string;
  complaints: string[];
  faults: string[];
  mends: { text: string; chain: object; settings: Settings }[];
  safety: string;
  caution: string;
  knobs: { knob: 'transmitter' | 'receiver' | 'input'; text: string; steps: { low_db: number; high_db: number; step_db: number }; present: number; best: number }[];
}

export interface TrimView {
  trim: { setting: number; expected: number; outcome: string | object };
  text: string;
  settings: Settings;
}
