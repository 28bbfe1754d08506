create table if not exists sheet (
	job bigint primary key,
	name text not null,
	by_length bigint not null,
	cost bigint not null,
	bound bigint not null,
	proven bigint not null,
	sticks bigint not null,
	work bigint not null,
	attempt bigint not null,
	worker text not null,
	milliseconds bigint not null,
	finished bigint not null,
	document bytea not null,
	page bytea not null
);
create table if not exists total (
	one bigint primary key,
	sheets bigint not null,
	proven bigint not null,
	sticks bigint not null,
	cost bigint not null,
	length bigint not null
);
insert into total (one, sheets, proven, sticks, cost, length) values (1, 0, 0, 0, 0, 0) on conflict do nothing;
create table if not exists batch (
	sum text primary key,
	added bigint not null
);
create index if not exists sheet_by_time on sheet (finished);
