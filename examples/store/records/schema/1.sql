-- Version 1: racks, what lies on them, jobs, and the changes that racks have had.
--
-- Lengths are BIGINT, in ticks of measure.Length (1/2,032,000 in), so that SQL sorts and
-- compares them; money is BIGINT, in minor units. Inside documents lengths are text with
-- units, as the library writes them.

CREATE TABLE rack (
	name    TEXT   NOT NULL PRIMARY KEY,
	version BIGINT NOT NULL, -- goes up with every change, and is what changes lock
	keep    BIGINT NOT NULL CHECK (keep >= 0), -- ticks: the shortest offcut worth keeping
	rules   TEXT   NOT NULL  -- JSON: []stock.KeepRule
);

-- An offcut that lies on the rack, count times. Where job is not empty it is held for
-- that job. Offcuts lie in the order of since and n, in which they came.
CREATE TABLE offcut (
	rack     TEXT   NOT NULL REFERENCES rack (name),
	since    BIGINT NOT NULL, -- the version of the rack that put it there
	n        BIGINT NOT NULL,
	job      TEXT   NOT NULL, -- key of the job that it is held for, or empty
	id       TEXT   NOT NULL,
	label    TEXT   NOT NULL,
	profile  TEXT   NOT NULL,
	material TEXT   NOT NULL,
	length   BIGINT NOT NULL CHECK (length > 0), -- ticks
	count    BIGINT NOT NULL CHECK (count > 0),
	PRIMARY KEY (rack, since, n, job)
);

-- A change to a rack, by hand or by a job. Its id is its own for ever: what is here was
-- done once and is never done again.
CREATE TABLE rack_change (
	rack     TEXT   NOT NULL REFERENCES rack (name),
	id       TEXT   NOT NULL,
	state    TEXT   NOT NULL CHECK (state IN ('held', 'done', 'dropped')),
	version  BIGINT NOT NULL, -- of the rack after it, or after what was held for it
	document TEXT   NOT NULL, -- JSON: stock.RackChange
	PRIMARY KEY (rack, id)
);

-- A job with its plan. The document is the whole of it; the other columns are taken from
-- it, to search by.
CREATE TABLE job (
	id       TEXT   NOT NULL PRIMARY KEY,
	rack     TEXT   NOT NULL REFERENCES rack (name),
	state    TEXT   NOT NULL CHECK (state IN ('open', 'cut', 'dropped')),
	saved    BIGINT NOT NULL, -- seconds since 1970-01-01 UTC
	version  BIGINT NOT NULL, -- of the rack when it was saved
	title    TEXT   NOT NULL,
	profile  TEXT   NOT NULL, -- of all its sticks, or empty where they differ
	material TEXT   NOT NULL, -- the same
	pieces   BIGINT NOT NULL,
	sticks   BIGINT NOT NULL, -- bought and off the rack
	currency TEXT   NOT NULL, -- JSON: measure.Currency, which cost and bound are in
	by_length BIGINT NOT NULL CHECK (by_length IN (0, 1)), -- 1: cost and bound are ticks, not money
	cost     BIGINT NOT NULL,
	bound    BIGINT NOT NULL,
	proven   BIGINT NOT NULL CHECK (proven IN (0, 1)),
	document TEXT   NOT NULL  -- JSON: a cut sheet, as cutsheet.Sheet writes and cutsheet.ReadJSON reads it
);

CREATE INDEX job_by_profile ON job (profile, material);
