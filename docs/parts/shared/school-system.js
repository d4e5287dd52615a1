// A school's system, as the two editions of SCORM have it: found in the windows around the page, asked,
// and told. Nothing here knows of the page.
//
// Sources: ADL, SCORM 1.2, The SCORM Run-Time Environment (2001), 3.3 and 3.4; ADL, SCORM 2004 4th Edition,
// Run-Time Environment (2009), chapters 3 and 4 (IEEE 1484.11.1 and 1484.11.2).

/** How far a student is; `scored` is whether there is a score yet. @typedef {{earned: number, outOf: number, scored: boolean, done: number, of: number}} Standing */
/** A step, as exercises/record.py has it. @typedef {{id: string, type: 'choice' | 'fill-in', asks: string, answer: string, result: 'correct' | 'incorrect' | 'neutral', right: string, weight: number}} Entry */
/** A name of the data model, and its value. @typedef {[name: string, value: string | number]} Pair */

// A frame in a frame in a frame …: no school's system is deeper, and a loop of windows has an end.
const MOST_WINDOWS = 50;

/** @typedef {typeof SCORM_12} Edition what an edition calls things, and how it writes them */
const SCORM_12 = {
  api: 'API',
  calls: {open: 'LMSInitialize', close: 'LMSFinish', get: 'LMSGetValue', set: 'LMSSetValue', commit: 'LMSCommit', error: 'LMSGetLastError', words: 'LMSGetErrorString'},
  names: {
    student: 'cmi.core.student_name', id: 'cmi.core.student_id', mode: 'cmi.core.lesson_mode', passMark: 'cmi.student_data.mastery_score',
    work: 'cmi.suspend_data', time: 'cmi.core.session_time', exit: 'cmi.core.exit',
  },
  // Characters of suspend data: CMIString4096.
  room: 4096,
  longest: 255,
  alreadyOpen: '',
  /** @param {string} text per cent */
  percent: (text) => Number(text),
  /** @param {number} seconds */
  duration: (seconds) => [seconds / 3600, (seconds / 60) % 60, seconds % 60].map((part) => String(Math.floor(part)).padStart(2, '0')).join(':'),
  /**
   * One status says all: it is not passed before each problem was marked. A score is per cent (3.4.4).
   * @param {Standing} standing
   * @param {number | null} passMark per cent
   * @returns {Pair[]}
   */
  standing: (standing, passMark) => [
    ...(standing.scored ? scores('cmi.core.score', percentOf(standing), 100) : []),
    ['cmi.core.lesson_status', standing.done < standing.of ? 'incomplete' : success(standing, passMark) ?? 'completed'],
  ],
  /** @returns {Pair[]} */
  begun: () => [['cmi.core.lesson_status', 'incomplete']],
  /**
   * @param {Entry} entry
   * @param {Date} when
   * @returns {Pair[]}
   */
  entry: ({result, ...entry}, when) => [
    ['id', entry.id],
    ['type', entry.type],
    ['time', when.toTimeString().slice(0, 8)],
    ['weighting', entry.weight],
    ['student_response', entry.answer],
    ['result', result === 'incorrect' ? 'wrong' : result],
    ['correct_responses.0.pattern', entry.right],
  ],
};

/** @type {Edition} */
const SCORM_2004 = {
  api: 'API_1484_11',
  calls: {open: 'Initialize', close: 'Terminate', get: 'GetValue', set: 'SetValue', commit: 'Commit', error: 'GetLastError', words: 'GetErrorString'},
  names: {
    student: 'cmi.learner_name', id: 'cmi.learner_id', mode: 'cmi.mode', passMark: 'cmi.scaled_passing_score',
    work: 'cmi.suspend_data', time: 'cmi.session_time', exit: 'cmi.exit',
  },
  // The 4th edition asks each system for at least so much (4.2.23); the 3rd for 4,000 characters.
  room: 64_000,
  longest: 250,
  alreadyOpen: '103',
  percent: (text) => 100 * Number(text),
  duration: (seconds) => `PT${Math.floor(seconds)}S`,
  standing: (standing, passMark) => [
    .../** @type {Pair[]} */ (standing.scored ? [['cmi.score.scaled', rounded(percentOf(standing) / 100, 4)], ...scores('cmi.score', standing.earned, standing.outOf)] : []),
    ['cmi.progress_measure', rounded(standing.done / standing.of, 4)],
    ['cmi.completion_status', standing.done < standing.of ? 'incomplete' : 'completed'],
    ['cmi.success_status', success(standing, passMark) ?? 'unknown'],
  ],
  begun: () => [['cmi.completion_status', 'incomplete']],
  entry: (entry, when) => [
    ['id', entry.id],
    ['type', entry.type],
    // Fractions of a second come before the sign for UTC (4.1.1.7).
    ['timestamp', `${when.toISOString().slice(0, 22)}Z`],
    ['weighting', entry.weight],
    ['learner_response', entry.answer],
    ['result', entry.result],
    ['correct_responses.0.pattern', entry.right],
    ['description', entry.asks],
  ],
};

export const EDITIONS = {scorm12: SCORM_12, scorm2004: SCORM_2004};

/** @param {Standing} standing */
function percentOf({earned, outOf}) {
  return outOf ? (100 * earned) / outOf : 0;
}

/**
 * @param {number} value
 * @param {number} places
 */
function rounded(value, places) {
  return Number(value.toFixed(places));
}

/**
 * @param {string} name
 * @param {number} earned
 * @param {number} outOf
 * @returns {Pair[]}
 */
function scores(name, earned, outOf) {
  return [[`${name}.raw`, rounded(earned, 2)], [`${name}.min`, 0], [`${name}.max`, outOf]];
}

/**
 * @param {Standing} standing
 * @param {number | null} passMark
 * @returns {'passed' | 'failed' | null} null where nothing is decided: no pass mark, or not yet failed
 */
function success(standing, passMark) {
  if (passMark === null) return null;
  // A hair below the mark is the mark: 2.1 of 3 is 70 %.
  if (percentOf(standing) >= passMark - 1e-6) return 'passed';
  return standing.done < standing.of ? null : 'failed';
}

/**
 * The system's interface: in this window, the windows around it, then in the one that opened it and those
 * around that (SCORM 1.2, 3.3.6; SCORM 2004, 3.3.2).
 * @param {keyof typeof EDITIONS} first the edition that the package is made for; the other may be there instead
 * @param {Window} page
 * @returns {SchoolSystem | null}
 */
export function findSystem(first, page) {
  const ordered = [EDITIONS[first], ...Object.values(EDITIONS).filter((one) => one !== EDITIONS[first])];
  for (const edition of ordered) {
    for (const around of windows(page)) {
      const api = reached(() => /** @type {any} */ (around)[edition.api]);
      if (api) return new SchoolSystem(api, edition);
    }
  }
  return null;
}

/**
 * @param {Window} page
 * @returns {Window[]}
 */
function windows(page) {
  const found = outwards(page);
  const opener = found.map((each) => reached(() => each.opener)).find(Boolean);
  return opener ? [...found, ...outwards(opener)] : found;
}

/** @param {Window} inner */
function outwards(inner) {
  const found = [inner];
  while (found.length < MOST_WINDOWS) {
    const last = /** @type {Window} */ (found.at(-1));
    const outer = reached(() => last.parent);
    if (!outer || outer === last) break;
    found.push(outer);
  }
  return found;
}

/**
 * A window of another origin lets nobody look into it.
 * @template T
 * @param {() => T} look
 * @returns {T | null}
 */
function reached(look) {
  try {
    return look();
  } catch {
    return null;
  }
}

export class SchoolSystem {
  #api;
  #edition;
  #open = false;
  /** @type {Map<string, string>} what was taken, so that nothing is said twice */
  #said = new Map();
  #began = Date.now();
  /** Why the system took something not, in its own words; empty where it takes all. */
  trouble = '';

  /**
   * @param {Record<string, (...values: string[]) => any>} api
   * @param {Edition} edition
   */
  constructor(api, edition) {
    this.#api = api;
    this.#edition = edition;
  }

  /** @returns {boolean} whether it answers; a system that was opened already does */
  open() {
    this.#open = this.#did('open', '') || (this.#edition.alreadyOpen !== '' && this.#code() === this.#edition.alreadyOpen);
    if (!this.#open) this.#note();
    return this.#open;
  }

  /** @returns {string} the student's name, the given name first; else what the system knows the student by */
  get student() {
    const name = this.#get('student').trim();
    const parts = name.split(',').map((part) => part.trim());
    return (parts.length === 2 ? `${parts[1]} ${parts[0]}`.trim() : name) || this.id;
  }

  get id() {
    return this.#get('id');
  }

  /** @returns {string} the work as it was kept last */
  get work() {
    return this.#get('work');
  }

  /** @returns {boolean} whether work is only looked at: the system takes nothing */
  get isReview() {
    return ['review', 'browse'].includes(this.#get('mode'));
  }

  /** @returns {number | null} per cent, where the teacher set a pass mark in the system itself */
  get passMark() {
    const text = this.#get('passMark');
    const percent = this.#edition.percent(text);
    return text === '' || !Number.isFinite(percent) ? null : percent;
  }

  /** @returns {number} how many characters of work it keeps */
  get room() {
    return this.#edition.room;
  }

  /** The first word of a visit: it is begun. */
  begin() {
    const name = this.#edition.begun()[0][0];
    if (['', 'not attempted', 'unknown'].includes(this.#ask(name))) this.#tell(this.#edition.begun());
  }

  /**
   * @param {string} work
   * @returns {boolean} whether it was taken; it is kept for good with the next `commit`
   */
  keep(work) {
    return this.#tell([[this.#edition.names.work, work]]);
  }

  /**
   * How far the student is, and each step that changed.
   * @param {Standing} standing
   * @param {number | null} passMark per cent
   * @param {Entry[]} entries all of the set's, in its order
   * @returns {boolean} whether the standing was taken; a system need not keep the steps (1.2 leaves them to it)
   */
  report(standing, passMark, entries) {
    const now = new Date();
    entries.forEach((entry, n) => this.#tellEntry(n, entry, now));
    return this.#tell(this.#edition.standing(standing, passMark));
  }

  /**
   * @param {number} n
   * @param {Entry} entry
   * @param {Date} when
   */
  #tellEntry(n, entry, when) {
    const key = `entry ${n}`;
    const whole = JSON.stringify(entry);
    if (this.#said.get(key) === whole) return;
    const pairs = this.#edition.entry(entry, when).map(([name, value]) => /** @type {Pair} */ ([`cmi.interactions.${n}.${name}`, String(value).slice(0, this.#edition.longest)]));
    for (const [name, value] of pairs) if (value !== '') this.#did('set', name, String(value));
    this.#said.set(key, whole);
  }

  /** @returns {boolean} whether all that was told is kept for good now */
  commit() {
    const seconds = (Date.now() - this.#began) / 1000;
    // Work that is to come back needs “suspend”, even when all is done: without it 2004 begins anew (4.2.8).
    const ends = [[this.#edition.names.exit, 'suspend'], [this.#edition.names.time, this.#edition.duration(seconds)]];
    const told = this.#tell(/** @type {Pair[]} */ (ends));
    if (this.#open && this.#did('commit', '')) return told;
    this.#note();
    return false;
  }

  close() {
    if (!this.#open) return;
    this.#did('close', '');
    this.#open = false;
  }

  /**
   * @param {Pair[]} pairs
   * @returns {boolean} whether all were taken
   */
  #tell(pairs) {
    let all = this.#open;
    for (const [name, value] of pairs) {
      if (!this.#open || this.#said.get(name) === String(value)) continue;
      if (this.#did('set', name, String(value))) this.#said.set(name, String(value));
      else {
        all = false;
        this.#note();
      }
    }
    if (all) this.trouble = '';
    return all;
  }

  /** @param {keyof Edition['names']} name */
  #get(name) {
    return this.#ask(this.#edition.names[name]);
  }

  /** @param {string} name */
  #ask(name) {
    const text = reached(() => this.#call('get', name));
    return text === null || text === undefined ? '' : String(text);
  }

  /**
   * @param {keyof Edition['calls']} call
   * @param {string[]} values
   * @returns {boolean} some systems say true, and some “true”
   */
  #did(call, ...values) {
    return String(reached(() => this.#call(call, ...values))) === 'true';
  }

  /**
   * @param {keyof Edition['calls']} call
   * @param {string[]} values
   */
  #call(call, ...values) {
    return this.#api[this.#edition.calls[call]](...values);
  }

  #code() {
    return String(reached(() => this.#call('error')) ?? '');
  }

  /** Remember why it took something not. */
  #note() {
    const code = this.#code();
    const words = String(reached(() => this.#call('words', code)) ?? '');
    this.trouble = [words, code].filter((part) => part && part !== '0').join(', ') || 'it gives no reason';
  }
}
