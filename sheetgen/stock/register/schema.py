"""The tables of the register, with what each column holds: SQLite keeps these comments, `.schema` shows them."""

from __future__ import annotations

APPLICATION = 0x53484753  # tells a register from other SQLite files

FIRST = """
CREATE TABLE run (  -- every run over the folder
  id INTEGER PRIMARY KEY,
  day TEXT NOT NULL,          -- of the run, ISO date
  program TEXT NOT NULL,      -- mark of the program
  look TEXT NOT NULL,         -- colours, print style and paper of the sheets
  whole INTEGER NOT NULL DEFAULT 0  -- 1: it came to its end; 0: it was broken off, and the next goes on
);
CREATE TABLE dwelling (  -- one description file each; what is known of it now hangs on its state
  id INTEGER PRIMARY KEY,
  path TEXT NOT NULL UNIQUE,  -- of the file below the folder, with /
  state INTEGER REFERENCES state(id),      -- the latest; NULL: never dealt with
  mark TEXT NOT NULL DEFAULT '',           -- of text, look and program when it was last dealt with
  sheet TEXT NOT NULL DEFAULT '',          -- path of its sheet below the output folder; '' none yet
  sheet_bytes INTEGER NOT NULL DEFAULT 0,
  trouble TEXT NOT NULL DEFAULT '',        -- why it could not be made last time, where that is not the text's fault
  gone INTEGER REFERENCES run(id)          -- the run that did not find its file any more; NULL: it is there
);
CREATE INDEX dwelling_by_sheet ON dwelling(sheet);
CREATE TABLE state (  -- a dwelling as one text described it; a new one only where something that is kept changed
  id INTEGER PRIMARY KEY,
  dwelling INTEGER NOT NULL REFERENCES dwelling(id),
  run INTEGER NOT NULL REFERENCES run(id), -- the run that found it so first
  kept TEXT NOT NULL,         -- mark of all that is kept
  understood INTEGER NOT NULL,             -- 0: only its problems are kept
  job TEXT NOT NULL DEFAULT '', place TEXT NOT NULL DEFAULT '',
  status TEXT NOT NULL DEFAULT '',         -- 'as found', 'proposed', '' not given
  drawn_by TEXT NOT NULL DEFAULT '',
  drawn_on TEXT NOT NULL DEFAULT '', drawn_day TEXT NOT NULL DEFAULT '',  -- as written; as ISO date
  board_where TEXT NOT NULL DEFAULT '', earthing TEXT NOT NULL DEFAULT '',
  report_number TEXT NOT NULL DEFAULT '', report_date TEXT NOT NULL DEFAULT '',
  report_due TEXT NOT NULL DEFAULT '', due_day TEXT NOT NULL DEFAULT '',  -- as written; as ISO date
  mixed_colours INTEGER NOT NULL DEFAULT 0,  -- 1: fixed wiring in colours of more than one set
  no_cpc TEXT NOT NULL DEFAULT '',         -- accessories to which no cpc comes
  rcd TEXT NOT NULL DEFAULT '',            -- of all ways in a line
  circuits INTEGER NOT NULL DEFAULT 0,
  dangers INTEGER NOT NULL DEFAULT 0, put_right INTEGER NOT NULL DEFAULT 0, notes INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX state_of_dwelling ON state(dwelling, run);
CREATE TABLE way (  -- of the board
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL,
  number TEXT NOT NULL, serves TEXT NOT NULL, device TEXT NOT NULL,
  rcd TEXT NOT NULL,          -- '30 mA', 'none', 'not known'
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE TABLE circuit (  -- as it was recognised
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL,
  lamps TEXT NOT NULL, switches TEXT NOT NULL, ways TEXT NOT NULL, method TEXT NOT NULL,
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE TABLE finding (
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL,
  gravity TEXT NOT NULL,      -- 'danger', 'put right', 'note'
  rule TEXT NOT NULL, says TEXT NOT NULL, setting TEXT NOT NULL, means TEXT NOT NULL, cure TEXT NOT NULL,
  clause TEXT NOT NULL, accessory TEXT NOT NULL, terminal TEXT NOT NULL, core TEXT NOT NULL,
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE TABLE cable (
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL,
  name TEXT NOT NULL, type TEXT NOT NULL, size TEXT NOT NULL, colours TEXT NOT NULL,
  begins TEXT NOT NULL, ends TEXT NOT NULL, -- accessories
  length REAL,                -- metres; NULL not given
  cores INTEGER NOT NULL,
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE TABLE accessory (
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL,
  name TEXT NOT NULL, kind TEXT NOT NULL, room TEXT NOT NULL,
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE TABLE note (  -- what the description says under notes
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL, says TEXT NOT NULL,
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE TABLE problem (  -- why a description could not be understood
  state INTEGER NOT NULL REFERENCES state(id), ordinal INTEGER NOT NULL,
  line INTEGER NOT NULL, col INTEGER NOT NULL, code TEXT NOT NULL, message TEXT NOT NULL, hint TEXT NOT NULL,
  PRIMARY KEY (state, ordinal)
) WITHOUT ROWID;
CREATE VIEW now AS  -- every dwelling that is there, as it is now
  SELECT dwelling.path, dwelling.sheet, dwelling.trouble, state.*
  FROM dwelling JOIN state ON state.id = dwelling.state WHERE dwelling.gone IS NULL;
CREATE VIEW finding_now AS  -- every finding of a dwelling that is there, as it is now
  SELECT now.path, now.job, finding.* FROM now JOIN finding ON finding.state = now.id;
"""

STEPS: tuple[str, ...] = (FIRST,)
"""What makes each version out of the one before; a register of any version is moved forward when it is opened."""
