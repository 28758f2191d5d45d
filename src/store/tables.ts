import type { Generated } from 'kysely';

/** The tables as kysely sees them; every row carries its workshop. */
interface Owned {
  workshop_id: string;
}

export interface Tables {
  workshop: {
    id: string;
    slug: string;
    created_at_ms: number;
    feed_epoch: Generated<number>;
    reread_files: Generated<number>;
    reread_lost: Generated<number>;
    reread_kept: Generated<number>;
    derived: Generated<number>;
    place_key: string | null;
  };
  handle: Owned & { kind: string; handle: string; entity_id: string; fact_seq: number };
  contact: Owned & {
    rider_id: string;
    name: string;
    email: string | null;
    address_id: string;
    phone: string | null;
    note: string | null;
    language: string;
    confirmed_at_ms: number | null;
    unsubscribed_at_ms: number | null;
    refused_at_ms: number | null;
    link_epoch: Generated<number>;
  };
  find_word: Owned & { kind: string; entity_id: string; word: string };
  fact: Owned & {
    /** Order of entry, also within one moment. */
    seq: Generated<number>;
    id: string;
    entity_id: string;
    kind: string;
    subject_id: string;
    object_id: string | null;
    body: string;
    replaces_id: string | null;
    is_void: number;
    recorded_at_ms: number;
    since_ms: number;
    recorded_by: string;
    why: string | null;
  };
  /** What took the place of a fact’s words when they were erased. */
  erasure: Owned & { fact_id: string; body: string; why: string | null; at_ms: number };
  file: Owned & {
    id: string;
    sha256: string;
    bytes: number;
    rider_id: string | null;
    outcome: string;
    code: string | null;
    reason: string | null;
  };
  arrival: Owned & {
    id: string;
    file_id: string;
    name: string;
    rider_id: string | null;
    bike_id: string | null;
    rule: string | null;
    way: string | null;
    arrived_at_ms: number;
    after_fact: number;
  };
  reading: Owned & {
    id: string;
    file_id: string;
    part: number;
    body: string;
    /** In the body of those that earlier programs kept. */
    profile: string | null;
    /** By which its file was looked at last. */
    reader_version: Generated<number>;
  };
  reading_again: Owned & {
    reading_id: string;
    /** Of that reading, in the order in which it was looked at again. */
    nth: number;
    reader_version: number;
    read_at_ms: number;
    outcome: string;
    body: string | null;
    profile: string | null;
  };
  reread_change: Owned & {
    unit_id: string;
    service_kind: string;
    moving_s: number;
    terrain_ms: number;
    moving_s_more: number;
    terrain_ms_more: number;
  };
  reading_sensor: Owned & { reading_id: string; sensor_id: string };
  reading_mark: Owned & {
    reading_id: string;
    key_id: string;
    recorder: string | null;
    from_minute: number;
    cells: string;
  };
  ride: Owned & {
    id: string;
    source: string;
    rider_id: string | null;
    bike_id: string | null;
    started_at_ms: number | null;
    ended_at_ms: number | null;
    moving_s: number;
    ground_ms: number;
    counts: number;
    question: string | null;
    body: string;
  };
  ride_reading: Owned & {
    reading_id: string;
    ride_id: string;
    rider_id: string | null;
    bike_id: string | null;
    started_at_ms: number | null;
    ended_at_ms: number | null;
    named_bike_id: string | null;
    profile: string | null;
    recorder: string | null;
    named_rider_id: string | null;
  };
  standing: Owned & {
    unit_id: string;
    service_kind: string;
    state: string;
    /** In a list of what is due: by rank, day and hours. */
    rank: number;
    likely_p50: string;
    hours_left: number;
    /** As its unit is called now. */
    tag: string;
    as_of_ms: number;
    stale: number;
    /** Of its unit's the one that a list shows first. */
    is_first: number;
    body: string;
    /** What it is foretold from. */
    forecast: string;
  };
  mail: Owned & {
    id: string;
    message_id: string;
    kind: string;
    recipient: string;
    day: string;
    cause: string;
    send_at_ms: number;
    state: string;
    queued_at_ms: number;
    tries: number;
    next_try_at_ms: number;
    settled_at_ms: number | null;
    written: string | null;
    told: number | null;
    answer: string | null;
    claimed_by: string | null;
    claimed_until_ms: number | null;
  };
  notice: Owned & {
    id: string;
    key: string;
    recipient: string;
    unit_id: string | null;
    service_kind: string | null;
    period_id: string | null;
    state: string | null;
    occasion: string;
    cause: string;
    mail_id: string;
    decided_at_ms: number;
    withdrawn_at_ms: number | null;
    lapsed_at_ms: number | null;
    keeps_place: number;
  };
  lead: Owned & {
    id: string;
    unit_id: string;
    rider_id: string | null;
    service_kind: string;
    wanted_kind: string;
    period_id: string;
    period_start: string | null;
    state: string;
    day: string | null;
    bench_minutes: number;
    made_at_ms: number;
    changed_at_ms: number;
    changed_by: string;
    calendar_uid: string;
    calendar_sequence: number;
    beside: string;
    /** The last step of its booking; of one that is open none. */
    fact_id: string | null;
    step: string | null;
    bike_id: string | null;
    offered: string;
    wish: string | null;
  };
  mailbox: Owned & { validity: string; last_uid: number; left_mails: number };
  mailed: Owned & {
    id: string;
    rider_id: string;
    key: string;
    opened_at_ms: number;
    done_at_ms: number | null;
    files: string;
    answer: string | null;
  };
  mailed_rider: Owned & {
    rider_id: string;
    epoch: number;
    answers_stopped_at_ms: number | null;
    found_stopped_at_ms: number | null;
  };
  later: Owned & { unit_id: string; rider_id: string; said_at_ms: number; until: string };
  account: Owned & { id: string; name: string; password_hash: string; role: string; fleet_id: string | null };
  session: Owned & {
    token_hash: string;
    account_id: string;
    created_at_ms: number;
    used_at_ms: number;
    expires_at_ms: number;
  };
  inbox_file: Owned & {
    home: string;
    path: string;
    bytes: number;
    modified_ms: number;
    stamp: string;
    seen_at_ms: number;
    settled: number;
    outcome: string | null;
    code: string | null;
    /** In English, by versions that kept no codes. */
    reason: string | null;
    said: string | null;
  };
  clock_word: Owned & {
    last_at_ms: number;
    doubted_since_ms: number | null;
    doubt_seen_at_ms: number | null;
    doubt_ran_ms: number | null;
  };
  program_version: Owned & { since_ms: number; version: string };
  heartbeat: Owned & { worker: string; home: string; loops: string; beat_at_ms: number };
}

/** The tables differ only in their columns; where rows are carried as they are, `file` stands for each in the types. */
export const anyTable = (table: keyof Tables): 'file' => table as 'file';
