-- Version 2: every coming and going of an offcut has a line of its own, so that what lies
-- on a rack can be counted a second time. What lies there already came by one of them.

CREATE TABLE movement (
	rack     TEXT   NOT NULL REFERENCES rack (name),
	version  BIGINT NOT NULL, -- of the rack after it
	n        BIGINT NOT NULL,
	change   TEXT   NOT NULL, -- id of the change, or empty for what was there before version 2
	id       TEXT   NOT NULL,
	label    TEXT   NOT NULL,
	profile  TEXT   NOT NULL,
	material TEXT   NOT NULL,
	length   BIGINT NOT NULL, -- ticks
	count    BIGINT NOT NULL CHECK (count <> 0), -- more than zero came, less went
	PRIMARY KEY (rack, version, n)
);

INSERT INTO movement (rack, version, n, change, id, label, profile, material, length, count)
	SELECT o.rack, 0, ROW_NUMBER() OVER (PARTITION BY o.rack ORDER BY o.since, o.n, o.job), '', o.id, o.label, o.profile, o.material, o.length, o.count
	FROM offcut o;

CREATE INDEX movement_by_change ON movement (rack, change);
