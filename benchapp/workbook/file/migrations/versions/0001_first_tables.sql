-- The first tables. A file of a released format is never changed: later formats have revisions of their own.

CREATE TABLE chains (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  kind TEXT NOT NULL,
  last_entry INTEGER NOT NULL,
  last_at TEXT NOT NULL,
  last_sha256 TEXT NOT NULL,
  anchored INTEGER NOT NULL,
  forked_at INTEGER,
  CONSTRAINT pk_chains PRIMARY KEY (id),
  CONSTRAINT uq_chains_uuid UNIQUE (uuid)
);

CREATE TABLE lots (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  name TEXT NOT NULL,
  given_name TEXT NOT NULL,
  equipment TEXT NOT NULL,
  route TEXT NOT NULL,
  title TEXT NOT NULL,
  taken_in TEXT NOT NULL,
  "by" TEXT NOT NULL,
  note TEXT NOT NULL,
  units INTEGER NOT NULL,
  CONSTRAINT pk_lots PRIMARY KEY (id),
  CONSTRAINT uq_lots_uuid UNIQUE (uuid),
  CONSTRAINT uq_lots_name UNIQUE (name)
);

CREATE INDEX ix_lots_given_name ON lots (given_name);

CREATE TABLE photos (
  id INTEGER NOT NULL,
  sha256 TEXT NOT NULL,
  media_type TEXT NOT NULL,
  image BLOB NOT NULL,
  CONSTRAINT pk_photos PRIMARY KEY (id),
  CONSTRAINT uq_photos_sha256 UNIQUE (sha256)
);

CREATE TABLE revisions (
  id INTEGER NOT NULL,
  sha256 TEXT NOT NULL,
  text TEXT NOT NULL,
  CONSTRAINT pk_revisions PRIMARY KEY (id),
  CONSTRAINT uq_revisions_sha256 UNIQUE (sha256)
);

CREATE TABLE workbook (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  made TEXT NOT NULL,
  settings TEXT NOT NULL,
  settings_entry INTEGER NOT NULL,
  settings_sha256 TEXT NOT NULL,
  CONSTRAINT pk_workbook PRIMARY KEY (id),
  CONSTRAINT ck_workbook_single CHECK (id = 1),
  CONSTRAINT uq_workbook_uuid UNIQUE (uuid)
);

CREATE TABLE benches (
  chain_id INTEGER NOT NULL,
  name TEXT NOT NULL,
  day INTEGER,
  day_sha256 TEXT NOT NULL,
  CONSTRAINT pk_benches PRIMARY KEY (chain_id),
  CONSTRAINT fk_benches_chain_id_chains FOREIGN KEY(chain_id) REFERENCES chains (id)
);

CREATE TABLE entries (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  chain_id INTEGER NOT NULL,
  number INTEGER NOT NULL,
  kind TEXT NOT NULL,
  at TEXT NOT NULL,
  "by" TEXT NOT NULL,
  bench TEXT NOT NULL,
  address TEXT NOT NULL,
  run TEXT NOT NULL,
  rules TEXT NOT NULL,
  value DOUBLE,
  bound TEXT,
  lower DOUBLE,
  upper DOUBLE,
  standard_uncertainty DOUBLE,
  expanded_uncertainty DOUBLE,
  coverage DOUBLE,
  dominant_half_width DOUBLE,
  others_standard_uncertainty DOUBLE,
  over_range_at DOUBLE,
  mains DOUBLE,
  flickers BOOLEAN NOT NULL,
  rule TEXT,
  judgement TEXT,
  withdraws INTEGER,
  states_facts BOOLEAN NOT NULL,
  sealed TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  CONSTRAINT pk_entries PRIMARY KEY (id),
  CONSTRAINT uq_entries_chain_id_number_sha256 UNIQUE (chain_id, number, sha256),
  CONSTRAINT ck_entries_number CHECK (number >= 0),
  CONSTRAINT uq_entries_uuid UNIQUE (uuid),
  CONSTRAINT fk_entries_chain_id_chains FOREIGN KEY(chain_id) REFERENCES chains (id)
);

CREATE INDEX ix_entries_address_chain_id ON entries (address, chain_id);

CREATE INDEX ix_entries_repairs ON entries (chain_id) WHERE kind = 'repair';

CREATE TABLE units (
  chain_id INTEGER NOT NULL,
  lot_id INTEGER NOT NULL,
  mark TEXT NOT NULL,
  shelf_mark TEXT NOT NULL,
  held TEXT NOT NULL,
  lent_to TEXT NOT NULL,
  route TEXT NOT NULL,
  disposition TEXT NOT NULL,
  grade TEXT NOT NULL,
  price TEXT NOT NULL,
  due TEXT NOT NULL,
  live TEXT NOT NULL,
  shown_at TEXT NOT NULL,
  moves_at TEXT NOT NULL,
  run_id INTEGER,
  CONSTRAINT pk_units PRIMARY KEY (chain_id),
  CONSTRAINT fk_units_chain_id_chains FOREIGN KEY(chain_id) REFERENCES chains (id),
  CONSTRAINT fk_units_lot_id_lots FOREIGN KEY(lot_id) REFERENCES lots (id),
  CONSTRAINT uq_units_mark UNIQUE (mark)
);

CREATE INDEX ix_units_disposition ON units (disposition);

CREATE INDEX ix_units_held ON units (held);

CREATE INDEX ix_units_lot_id ON units (lot_id);

CREATE INDEX ix_units_moves_at ON units (moves_at);

CREATE INDEX ix_units_shelf_mark ON units (shelf_mark);

CREATE TABLE runs (
  id INTEGER NOT NULL,
  uuid TEXT NOT NULL,
  unit_id INTEGER NOT NULL,
  number INTEGER NOT NULL,
  started TEXT NOT NULL,
  "by" TEXT NOT NULL,
  route TEXT NOT NULL,
  equipment TEXT NOT NULL,
  settings TEXT NOT NULL,
  pins TEXT NOT NULL,
  CONSTRAINT pk_runs PRIMARY KEY (id),
  CONSTRAINT uq_runs_unit_id_number UNIQUE (unit_id, number),
  CONSTRAINT uq_runs_uuid UNIQUE (uuid),
  CONSTRAINT fk_runs_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (chain_id)
);

CREATE TABLE tags_printed (
  entry_id INTEGER NOT NULL,
  unit_id INTEGER NOT NULL,
  at TEXT NOT NULL,
  "by" TEXT NOT NULL,
  disposition TEXT NOT NULL,
  record_hash TEXT NOT NULL,
  CONSTRAINT pk_tags_printed PRIMARY KEY (entry_id, unit_id),
  CONSTRAINT fk_tags_printed_entry_id_entries FOREIGN KEY(entry_id) REFERENCES entries (id),
  CONSTRAINT fk_tags_printed_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (chain_id)
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
  CONSTRAINT fk_unit_stages_unit_id_units FOREIGN KEY(unit_id) REFERENCES units (chain_id)
);
