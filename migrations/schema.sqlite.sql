CREATE TABLE "account" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "name" text not null,
  "password_hash" text not null,
  "role" text not null,
  "fleet_id" text,
  constraint "account_name" unique ("workshop_id",
  "name"));

CREATE TABLE "arrival" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "file_id" text not null references "file" ("id"),
  "name" text not null,
  "rider_id" text,
  "bike_id" text,
  "rule" text,
  "arrived_at_ms" bigint not null,
  "after_fact" integer not null,
  "way" text);

CREATE INDEX "arrival_by_arrived_at_ms" on "arrival" ("workshop_id",
  "arrived_at_ms");

CREATE INDEX "arrival_by_file_id" on "arrival" ("workshop_id",
  "file_id");

CREATE TABLE "clock_word" ("workshop_id" text not null primary key references "workshop" ("id"),
  "last_at_ms" bigint not null,
  "doubted_since_ms" bigint,
  "doubt_seen_at_ms" bigint,
  "doubt_ran_ms" bigint);

CREATE TABLE "contact" ("workshop_id" text not null references "workshop" ("id"),
  "rider_id" text not null primary key,
  "name" text not null,
  "email" text,
  "address_id" text not null,
  "phone" text,
  "language" text not null,
  "confirmed_at_ms" bigint,
  "unsubscribed_at_ms" bigint,
  "refused_at_ms" bigint,
  "link_epoch" integer default 0 not null,
  "note" text);

CREATE INDEX "contact_by_name" on "contact" ("workshop_id",
  "name",
  "rider_id");

CREATE INDEX "contact_refused" on "contact" ("workshop_id",
  "name") where "refused_at_ms" is not null;

CREATE TABLE "erasure" ("workshop_id" text not null references "workshop" ("id"),
  "fact_id" text not null,
  "body" text not null,
  "why" text,
  "at_ms" bigint not null,
  constraint "erasure_pk" primary key ("workshop_id",
  "fact_id"));

CREATE TRIGGER fact_no_delete BEFORE DELETE ON fact BEGIN SELECT RAISE(ABORT, 'fact is append-only'); END;

CREATE TRIGGER fact_no_update BEFORE UPDATE ON fact WHEN NOT ((new.seq,new.workshop_id,new.id,new.entity_id,new.kind,new.subject_id,new.object_id,new.replaces_id,new.is_void,new.recorded_at_ms,new.since_ms,new.recorded_by) IS (old.seq,old.workshop_id,old.id,old.entity_id,old.kind,old.subject_id,old.object_id,old.replaces_id,old.is_void,old.recorded_at_ms,old.since_ms,old.recorded_by)
   AND EXISTS (SELECT 1 FROM erasure WHERE workshop_id = old.workshop_id AND fact_id = old.id AND body = new.body AND why IS new.why))
   BEGIN SELECT RAISE(ABORT, 'fact is append-only'); END;

CREATE TABLE "fact" ("workshop_id" text not null references "workshop" ("id"),
  "seq" integer primary key autoincrement,
  "id" text not null unique,
  "entity_id" text not null,
  "kind" text not null,
  "subject_id" text not null,
  "object_id" text,
  "body" text not null,
  "replaces_id" text references "fact" ("id"),
  "is_void" integer default 0 not null,
  "recorded_at_ms" bigint not null,
  "since_ms" bigint not null,
  "recorded_by" text not null,
  "why" text);

CREATE INDEX "fact_by_entity_id" on "fact" ("workshop_id",
  "entity_id");

CREATE INDEX "fact_by_kind_object_id" on "fact" ("workshop_id",
  "kind",
  "object_id");

CREATE INDEX "fact_by_kind_subject_id" on "fact" ("workshop_id",
  "kind",
  "subject_id");

CREATE INDEX "fact_by_seq" on "fact" ("workshop_id",
  "seq");

CREATE INDEX "fact_by_subject_id" on "fact" ("workshop_id",
  "subject_id");

CREATE INDEX fact_of_fleet on fact (workshop_id, kind, entity_id)
    where body like '%"fleetId":"%';

CREATE INDEX fact_of_loan on fact (workshop_id, kind, entity_id)
    where body like '%"loanUntil":"%';

CREATE UNIQUE INDEX "fact_replaced_once" on "fact" ("replaces_id") where "replaces_id" is not null;

CREATE TABLE "file" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "sha256" text not null,
  "bytes" bigint not null,
  "rider_id" text,
  "outcome" text not null,
  "code" text,
  "reason" text);

CREATE INDEX "file_by_sha256" on "file" ("workshop_id",
  "sha256");

CREATE TABLE "find_word" ("workshop_id" text not null references "workshop" ("id"),
  "kind" text not null,
  "entity_id" text not null,
  "word" text not null,
  constraint "find_word_pk" primary key ("workshop_id",
  "word",
  "entity_id")) without rowid;

CREATE INDEX "find_word_by_entity_id" on "find_word" ("workshop_id",
  "entity_id",
  "word");

CREATE TABLE "handle" ("workshop_id" text not null references "workshop" ("id"),
  "kind" text not null,
  "handle" text not null,
  "entity_id" text not null,
  "fact_seq" integer not null,
  constraint "handle_pk" primary key ("workshop_id",
  "kind",
  "handle"));

CREATE INDEX "handle_by_kind_entity_id" on "handle" ("workshop_id",
  "kind",
  "entity_id");

CREATE TABLE "heartbeat" ("workshop_id" text not null references "workshop" ("id"),
  "worker" text not null,
  "home" text not null,
  "loops" text not null,
  "beat_at_ms" bigint not null,
  constraint "heartbeat_pk" primary key ("workshop_id",
  "worker"));

CREATE TABLE "inbox_file" ("workshop_id" text not null references "workshop" ("id"),
  "home" text not null,
  "path" text not null,
  "bytes" bigint not null,
  "modified_ms" bigint not null,
  "stamp" text not null,
  "seen_at_ms" bigint not null,
  "settled" integer not null,
  "outcome" text,
  "code" text,
  "reason" text,
  "said" text,
  constraint "inbox_file_pk" primary key ("workshop_id",
  "home",
  "path"));

CREATE INDEX inbox_file_set_aside on inbox_file (workshop_id, home, seen_at_ms)
    where outcome = 'set-aside';

CREATE INDEX "inbox_untaken" on "inbox_file" ("workshop_id",
  "home",
  "seen_at_ms",
  "code") where "settled" = 0;

CREATE TABLE "kysely_migration" ("name" varchar(255) not null primary key,
  "timestamp" varchar(255) not null);

CREATE TABLE "kysely_migration_lock" ("id" varchar(255) not null primary key,
  "is_locked" integer default 0 not null);

CREATE TABLE "later" ("workshop_id" text not null references "workshop" ("id"),
  "unit_id" text not null,
  "rider_id" text not null,
  "said_at_ms" bigint not null,
  "until" text not null,
  constraint "later_pk" primary key ("workshop_id",
  "unit_id"));

CREATE TABLE "lead" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null,
  "unit_id" text not null,
  "rider_id" text,
  "service_kind" text not null,
  "wanted_kind" text not null,
  "period_id" text not null,
  "period_start" text,
  "state" text not null,
  "day" text,
  "bench_minutes" integer not null,
  "made_at_ms" bigint not null,
  "changed_at_ms" bigint not null,
  "changed_by" text not null,
  "calendar_uid" text not null,
  "calendar_sequence" integer not null,
  "beside" text not null,
  "fact_id" text,
  "step" text,
  "bike_id" text,
  "offered" text default '[]' not null,
  "wish" text,
  constraint "lead_by_unit_pk" primary key ("id",
  "unit_id"));

CREATE INDEX "lead_by_state_day" on "lead" ("workshop_id",
  "state",
  "day");

CREATE INDEX "lead_by_unit_id" on "lead" ("workshop_id",
  "unit_id");

CREATE UNIQUE INDEX "lead_once" on "lead" ("workshop_id",
  "unit_id") where state in ('open', 'asked-for', 'booked');

CREATE TABLE "mail" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "message_id" text not null unique,
  "kind" text not null,
  "recipient" text not null,
  "day" text not null,
  "cause" text not null,
  "send_at_ms" bigint not null,
  "state" text not null,
  "queued_at_ms" bigint not null,
  "tries" integer not null,
  "next_try_at_ms" bigint not null,
  "settled_at_ms" bigint,
  "written" text,
  "told" integer,
  "answer" text,
  "claimed_by" text,
  "claimed_until_ms" bigint);

CREATE INDEX mail_by_next_try on mail (workshop_id, state, next_try_at_ms, id);

CREATE INDEX "mail_by_recipient" on "mail" ("workshop_id",
  "recipient",
  "queued_at_ms",
  "id");

CREATE INDEX mail_by_settled on mail
    (workshop_id, state, (coalesce(settled_at_ms, queued_at_ms)) desc, id);

CREATE TABLE "mailbox" ("workshop_id" text not null primary key references "workshop" ("id"),
  "validity" text not null,
  "last_uid" bigint not null,
  "left_mails" integer not null);

CREATE TABLE "mailed" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "rider_id" text not null,
  "key" text not null,
  "opened_at_ms" bigint not null,
  "done_at_ms" bigint,
  "files" text not null,
  "answer" text,
  constraint "mailed_key" unique ("workshop_id",
  "key"));

CREATE INDEX "mailed_by_answer" on "mailed" ("workshop_id",
  "answer");

CREATE INDEX "mailed_by_rider" on "mailed" ("workshop_id",
  "rider_id",
  "opened_at_ms");

CREATE INDEX mailed_unread on mailed (workshop_id, opened_at_ms)
    where files like '%"code":"mail-left"%';

CREATE TABLE "mailed_rider" ("workshop_id" text not null references "workshop" ("id"),
  "rider_id" text not null,
  "epoch" integer not null,
  "answers_stopped_at_ms" bigint,
  "found_stopped_at_ms" bigint,
  constraint "mailed_rider_pk" primary key ("workshop_id",
  "rider_id"));

CREATE TABLE "notice" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "key" text not null,
  "recipient" text not null,
  "unit_id" text,
  "service_kind" text,
  "period_id" text,
  "state" text,
  "occasion" text not null,
  "cause" text not null,
  "mail_id" text not null references "mail" ("id"),
  "decided_at_ms" bigint not null,
  "withdrawn_at_ms" bigint,
  "lapsed_at_ms" bigint,
  "keeps_place" integer not null);

CREATE INDEX notice_by_mail on notice (mail_id, withdrawn_at_ms, decided_at_ms, id);

CREATE INDEX "notice_by_unit" on "notice" ("workshop_id",
  "unit_id",
  "decided_at_ms",
  "id");

CREATE UNIQUE INDEX "notice_once" on "notice" ("workshop_id",
  "key") where "keeps_place" = 1;

CREATE TABLE "program_version" ("workshop_id" text not null references "workshop" ("id"),
  "since_ms" bigint not null,
  "version" text not null,
  constraint "program_version_pk" primary key ("workshop_id",
  "since_ms"));

CREATE TRIGGER reading_no_delete BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'reading is append-only'); END;

CREATE TRIGGER reading_no_update BEFORE UPDATE OF workshop_id, id, file_id, part, body, profile ON reading BEGIN SELECT RAISE(ABORT, 'reading is append-only'); END;

CREATE TABLE "reading" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "file_id" text not null references "file" ("id"),
  "part" integer not null,
  "body" text not null,
  "reader_version" integer default 1 not null,
  "profile" text,
  constraint "reading_part" unique ("file_id",
  "part"));

CREATE INDEX "reading_by_reader" on "reading" ("workshop_id",
  "reader_version",
  "file_id");

CREATE TABLE "reading_again" ("workshop_id" text not null references "workshop" ("id"),
  "reading_id" text not null references "reading" ("id"),
  "nth" integer not null,
  "reader_version" integer not null,
  "read_at_ms" bigint not null,
  "outcome" text not null,
  "body" text,
  "profile" text,
  constraint "reading_again_pk" primary key ("reading_id",
  "nth"));

CREATE TABLE "reading_mark" ("workshop_id" text not null references "workshop" ("id"),
  "reading_id" text not null primary key references "reading" ("id"),
  "key_id" text not null,
  "recorder" text,
  "from_minute" integer not null,
  "cells" text not null);

CREATE INDEX "reading_mark_by_recorder" on "reading_mark" ("workshop_id",
  "recorder");

CREATE TRIGGER reading_sensor_no_delete BEFORE DELETE ON reading_sensor BEGIN SELECT RAISE(ABORT, 'reading_sensor is append-only'); END;

CREATE TRIGGER reading_sensor_no_update BEFORE UPDATE ON reading_sensor BEGIN SELECT RAISE(ABORT, 'reading_sensor is append-only'); END;

CREATE TABLE "reading_sensor" ("workshop_id" text not null references "workshop" ("id"),
  "reading_id" text not null references "reading" ("id"),
  "sensor_id" text not null,
  constraint "reading_sensor_pk" primary key ("reading_id",
  "sensor_id"));

CREATE INDEX "reading_sensor_by_sensor_id" on "reading_sensor" ("workshop_id",
  "sensor_id");

CREATE TABLE "reread_change" ("workshop_id" text not null references "workshop" ("id"),
  "unit_id" text not null,
  "service_kind" text not null,
  "moving_s" bigint not null,
  "terrain_ms" bigint not null,
  "moving_s_more" bigint not null,
  "terrain_ms_more" bigint not null,
  constraint "reread_change_pk" primary key ("workshop_id",
  "unit_id",
  "service_kind"));

CREATE TABLE "ride" ("workshop_id" text not null references "workshop" ("id"),
  "id" text not null primary key,
  "source" text not null,
  "rider_id" text,
  "bike_id" text,
  "started_at_ms" bigint,
  "ended_at_ms" bigint,
  "moving_s" integer not null,
  "ground_ms" bigint not null,
  "counts" integer not null,
  "question" text,
  "body" text not null);

CREATE INDEX ride_asking_in_order on ride (workshop_id, started_at_ms, id)
    where question is not null;

CREATE INDEX "ride_asking_of_bike" on "ride" ("workshop_id",
  "bike_id") where "question" is not null;

CREATE INDEX "ride_asking_of_rider" on "ride" ("workshop_id",
  "rider_id",
  "bike_id") where "question" is not null;

CREATE INDEX "ride_by_bike_id_started_at_ms" on "ride" ("workshop_id",
  "bike_id",
  "started_at_ms");

CREATE INDEX "ride_by_rider_id_started_at_ms" on "ride" ("workshop_id",
  "rider_id",
  "started_at_ms");

CREATE TABLE "ride_reading" ("workshop_id" text not null references "workshop" ("id"),
  "reading_id" text not null primary key,
  "ride_id" text not null references "ride" ("id") on delete cascade,
  "rider_id" text,
  "bike_id" text,
  "started_at_ms" bigint,
  "ended_at_ms" bigint,
  "named_bike_id" text,
  "profile" text,
  "recorder" text,
  "named_rider_id" text);

CREATE INDEX "ride_reading_by_bike_id_started_at_ms" on "ride_reading" ("workshop_id",
  "bike_id",
  "started_at_ms");

CREATE INDEX "ride_reading_by_profile" on "ride_reading" ("workshop_id",
  "rider_id",
  "profile");

CREATE INDEX "ride_reading_by_recorder" on "ride_reading" ("workshop_id",
  "recorder",
  "named_rider_id",
  "started_at_ms");

CREATE INDEX "ride_reading_by_ride_id" on "ride_reading" ("ride_id");

CREATE INDEX "ride_reading_by_rider_id_started_at_ms" on "ride_reading" ("workshop_id",
  "rider_id",
  "started_at_ms");

CREATE TABLE "session" ("workshop_id" text not null references "workshop" ("id"),
  "token_hash" text not null primary key,
  "account_id" text not null references "account" ("id"),
  "created_at_ms" bigint not null,
  "used_at_ms" bigint not null,
  "expires_at_ms" bigint not null);

CREATE TABLE "standing" ("workshop_id" text not null references "workshop" ("id"),
  "unit_id" text not null,
  "service_kind" text not null,
  "state" text not null,
  "rank" integer not null,
  "likely_p50" text not null,
  "hours_left" double precision not null,
  "as_of_ms" bigint not null,
  "stale" integer not null,
  "body" text not null,
  "tag" text default '' not null,
  "is_first" integer default 0 not null,
  "forecast" text default '{}' not null,
  constraint "standing_pk" primary key ("unit_id",
  "service_kind"));

CREATE INDEX "standing_by_likely" on "standing" ("workshop_id",
  "likely_p50",
  "unit_id");

CREATE INDEX "standing_by_stale_as_of_ms" on "standing" ("workshop_id",
  "stale",
  "as_of_ms");

CREATE INDEX "standing_by_state_as_of_ms" on "standing" ("workshop_id",
  "state",
  "as_of_ms");

CREATE INDEX "standing_by_tag" on "standing" ("workshop_id",
  "tag",
  "unit_id");

CREATE INDEX "standing_first_by_state" on "standing" ("workshop_id",
  "is_first",
  "state",
  "as_of_ms");

CREATE INDEX "standing_first_in_order" on "standing" ("workshop_id",
  "is_first",
  "rank",
  "likely_p50",
  "hours_left",
  "tag",
  "state");

CREATE TABLE "workshop" ("id" text not null primary key,
  "slug" text not null unique,
  "created_at_ms" bigint not null,
  "feed_epoch" integer default 0 not null,
  "derived" integer default 0 not null,
  "reread_files" integer default 0 not null,
  "reread_lost" integer default 0 not null,
  "reread_kept" integer default 0 not null,
  "place_key" text);
