create table if not exists sheet (
	job bigint primary key,
	name text not null,
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
	cost bigint not null
);
insert into total (one, sheets, proven, sticks, cost) values (1, 0, 0, 0, 0) on conflict do nothing;
create index if not exists sheet_by_time on sheet (finished);
