-- Each projection's tables are there twice: one copy is looked at, the other can be made anew beside it. Rows are keyed
-- by where their event lies in the log.
create table projection (
    name varchar(20) primary key,
    live integer not null,
    -- Counts up whenever anything was added.
    changes bigint default 0 not null,
    -- Making it anew was begun and not ended.
    unfinished boolean default false not null
);
insert into projection (name, live) values ('index', 1), ('board', 1), ('history', 1);

create table board_act_1 (
    position bigint primary key,
    farm varchar(32) not null,
    morning date not null,
    row_label varchar(3) not null,
    act varchar not null
);
create table board_act_2 (
    position bigint primary key,
    farm varchar(32) not null,
    morning date not null,
    row_label varchar(3) not null,
    act varchar not null
);
create table history_act_1 (
    position bigint primary key,
    event_id varchar(64) not null,
    farm varchar(32) not null,
    subject varchar(200) not null,
    act varchar not null
);
create table history_act_2 (
    position bigint primary key,
    event_id varchar(64) not null,
    farm varchar(32) not null,
    subject varchar(200) not null,
    act varchar not null
);
create table history_tie_1 (
    position bigint not null,
    farm varchar(32) not null,
    tie varchar(9) not null,
    morning date not null,
    round varchar(200) not null
);
create table history_tie_2 (
    position bigint not null,
    farm varchar(32) not null,
    tie varchar(9) not null,
    morning date not null,
    round varchar(200) not null
);

-- Where a late event was read, its position in these tables was that of the one read before it.
insert into board_act_1 (position, farm, morning, row_label, act)
    select event.position, board_act.farm, morning, row_label, act
    from board_act join event on event.event_id = board_act.event_id;
insert into history_act_1 (position, event_id, farm, subject, act)
    select event.position, history_act.event_id, history_act.farm, subject, act
    from history_act join event on event.event_id = history_act.event_id;
insert into history_tie_1 (position, farm, tie, morning, round)
    select event.position, history_tie.farm, tie, cast(right(round, 10) as date), round
    from history_tie join event on event.event_id = history_tie.event_id;
drop table board_act;
drop table history_act;
drop table history_tie;

create index board_act_morning_1 on board_act_1 (farm, morning, position);
create index board_act_morning_2 on board_act_2 (farm, morning, position);
create index history_act_subject_1 on history_act_1 (farm, subject, position);
create index history_act_subject_2 on history_act_2 (farm, subject, position);
create index history_tie_tie_1 on history_tie_1 (farm, tie);
create index history_tie_tie_2 on history_tie_2 (farm, tie);
create index history_tie_morning_1 on history_tie_1 (farm, morning);
create index history_tie_morning_2 on history_tie_2 (farm, morning);
