-- The board: the acts of every round, as stored. What they mean is folded when a board is read.
create table board_act (
    farm varchar(32) not null,
    event_id varchar(64) not null,
    position bigint not null,
    morning date not null,
    row_label varchar(3) not null,
    act varchar not null,
    primary key (farm, event_id)
);
create index board_act_morning on board_act (farm, morning, position);

-- Histories: every act by its subject, and which acts put a tie on.
create table history_act (
    farm varchar(32) not null,
    event_id varchar(64) not null,
    position bigint not null,
    subject varchar(200) not null,
    act varchar not null,
    primary key (farm, event_id)
);
create index history_act_subject on history_act (farm, subject, position);

create table history_tie (
    farm varchar(32) not null,
    tie varchar(9) not null,
    event_id varchar(64) not null,
    round varchar(200) not null,
    primary key (farm, tie, event_id)
);
