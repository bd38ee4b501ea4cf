-- The first tables. A file of a released format is never changed: later formats have revisions of their own.

CREATE TABLE anchors (
  id INTEGER NOT NULL,
  at TEXT NOT NULL,
  reason TEXT NOT NULL,
  entries INTEGER NOT NULL,
  heads TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  CONSTRAINT pk_anchors PRIMARY KEY (id)
);

CREATE TABLE bench_openings (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  at TEXT NOT NULL,
  "by" TEXT NOT NULL,
  rcd_button_tested BOOLEAN NOT NULL,
  note TEXT NOT NULL,
  CONSTRAINT pk_bench_openings PRIMARY KEY (id),
  CONSTRAINT uq_bench_openings_uuid UNIQUE (uuid)
);

CREATE TABLE lots (
  id INTEGER NOT NULL,
  name TEXT NOT NULL,
  equipment TEXT NOT NULL,
  title TEXT NOT NULL,
  taken_in TEXT NOT NULL,
  "by" TEXT NOT NULL,
  note TEXT NOT NULL,
  CONSTRAINT pk_lots PRIMARY KEY (id),
  CONSTRAINT uq_lots_name UNIQUE (name)
);

CREATE TABLE revisions (
  id INTEGER NOT NULL,
  sha256 TEXT NOT NULL,
  text TEXT NOT NULL,
  kept TEXT NOT NULL,
  CONSTRAINT pk_revisions PRIMARY KEY (id),
  CONSTRAINT uq_revisions_sha256 UNIQUE (sha256)
);

CREATE TABLE workbook (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  made TEXT NOT NULL,
  workshop TEXT NOT NULL,
  CONSTRAINT pk_workbook PRIMARY KEY (id),
  CONSTRAINT ck_workbook_single CHECK (id = 1),
  CONSTRAINT uq_workbook_uuid UNIQUE (uuid)
);

CREATE TABLE bench_closings (
  opening_id INTEGER NOT NULL,
  at TEXT NOT NULL,
  "by" TEXT NOT NULL,
  note TEXT NOT NULL,
  CONSTRAINT pk_bench_closings PRIMARY KEY (opening_id),
  CONSTRAINT fk_bench_closings_opening_id_bench_openings FOREIGN KEY(opening_id) REFERENCES bench_openings (id)
);

CREATE TABLE meter_proofs (
  opening_id INTEGER NOT NULL,
  moment TEXT NOT NULL,
  meter TEXT NOT NULL,
  proved BOOLEAN NOT NULL,
  lead_resistance DOUBLE,
  nulled BOOLEAN NOT NULL,
  CONSTRAINT pk_meter_proofs PRIMARY KEY (opening_id, moment, meter),
  CONSTRAINT ck_meter_proofs_moment CHECK (moment IN ('opening', 'closing')),
  CONSTRAINT fk_meter_proofs_opening_id_bench_openings FOREIGN KEY(opening_id) REFERENCES bench_openings (id)
);

CREATE TABLE units (
  id INTEGER NOT NULL,
  lot_id INTEGER NOT NULL,
  mark TEXT NOT NULL,
  genesis TEXT NOT NULL,
  route TEXT NOT NULL,
  disposition TEXT NOT NULL,
  grade TEXT NOT NULL,
  price TEXT NOT NULL,
  due TEXT NOT NULL,
  run_id INTEGER,
  last_entry INTEGER NOT NULL,
  last_at TEXT NOT NULL,
  last_sha256 TEXT NOT NULL,
  CONSTRAINT pk_units PRIMARY KEY (id),
  CONSTRAINT ck_units_disposition CHECK (disposition IN ('quarantine', 'for sale', 'spares or repair', 'scrap', 'keep', 'hold')),
  CONSTRAINT fk_units_lot_id_lots FOREIGN KEY(lot_id) REFERENCES lots (id),
  CONSTRAINT uq_units_mark UNIQUE (mark)
);

CREATE INDEX ix_units_lot_id ON units (lot_id);

CREATE TABLE runs (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  unit_id INTEGER NOT NULL,
  number INTEGER NOT NULL,
  started TEXT NOT NULL,
  "by" TEXT NOT NULL,
  route TEXT NOT NULL,
  equipment TEXT NOT NULL,
  workshop TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  CONSTRAINT pk_runs PRIMARY KEY (id),
  CONSTRAINT fk_runs_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (id),
  CONSTRAINT uq_runs_unit_id_number UNIQUE (unit_id, number),
  CONSTRAINT uq_runs_uuid UNIQUE (uuid)
);

CREATE TABLE tags_printed (
  id INTEGER NOT NULL,
  unit_id INTEGER NOT NULL,
  at TEXT NOT NULL,
  "by" TEXT NOT NULL,
  disposition TEXT NOT NULL,
  record_hash TEXT NOT NULL,
  CONSTRAINT pk_tags_printed PRIMARY KEY (id),
  CONSTRAINT fk_tags_printed_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (id)
);

CREATE INDEX ix_tags_printed_unit_id ON tags_printed (unit_id);

CREATE TABLE unit_stages (
  unit_id INTEGER NOT NULL,
  stage TEXT NOT NULL,
  position INTEGER NOT NULL,
  title TEXT NOT NULL,
  status TEXT NOT NULL,
  done INTEGER NOT NULL,
  steps INTEGER NOT NULL,
  why TEXT NOT NULL,
  CONSTRAINT pk_unit_stages PRIMARY KEY (unit_id, stage),
  CONSTRAINT ck_unit_stages_status CHECK (status IN ('not started', 'in progress', 'done', 'failed', 'shut', 'stale', 'skipped')),
  CONSTRAINT fk_unit_stages_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (id)
);

CREATE TABLE entries (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  unit_id INTEGER NOT NULL,
  number INTEGER NOT NULL,
  run_id INTEGER NOT NULL,
  kind TEXT NOT NULL,
  at TEXT NOT NULL,
  "by" TEXT NOT NULL,
  address TEXT NOT NULL,
  value DOUBLE,
  bound TEXT,
  lower DOUBLE,
  upper DOUBLE,
  standard_uncertainty DOUBLE,
  rule TEXT,
  judgement TEXT,
  rules_version TEXT,
  content TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  CONSTRAINT pk_entries PRIMARY KEY (id),
  CONSTRAINT ck_entries_bound CHECK (bound IN ('exact', 'above', 'below')),
  CONSTRAINT ck_entries_judgement CHECK (judgement IN ('pass', 'conditional pass', 'conditional fail', 'fail', 'not judged')),
  CONSTRAINT ck_entries_kind CHECK (kind IN ('answer', 'withdrawal', 'meter', 'caution', 'set-up', 'fault', 'repair', 'opened', 'event', 'hazard', 'supervisor-opening', 'disposition', 'plug-destroyed', 'fact', 'note')),
  CONSTRAINT ck_entries_rule CHECK (rule IN ('simple', 'guarded')),
  CONSTRAINT ck_entries_number CHECK (number >= 1),
  CONSTRAINT fk_entries_run_id_runs FOREIGN KEY(run_id) REFERENCES runs (id),
  CONSTRAINT fk_entries_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (id),
  CONSTRAINT uq_entries_unit_id_number UNIQUE (unit_id, number),
  CONSTRAINT uq_entries_uuid UNIQUE (uuid)
);

CREATE INDEX ix_entries_address_unit_id ON entries (address, unit_id);

CREATE TABLE run_revisions (
  run_id INTEGER NOT NULL,
  name TEXT NOT NULL,
  revision_id INTEGER NOT NULL,
  CONSTRAINT pk_run_revisions PRIMARY KEY (run_id, name),
  CONSTRAINT fk_run_revisions_revision_id_revisions FOREIGN KEY(revision_id) REFERENCES revisions (id),
  CONSTRAINT fk_run_revisions_run_id_runs FOREIGN KEY(run_id) REFERENCES runs (id)
);
