-- Events that a projection could not take, and those of the same subject that wait behind them; as Axon's queue wants it.
create table parked (
    letter varchar(64) primary key,
    projection varchar(100) not null,
    subject varchar(200) not null,
    place bigint not null,
    message_type varchar(200) not null,
    event_id varchar(64) not null,
    stored_at varchar(40) not null,
    event_type varchar(100) not null,
    revision varchar(10),
    payload bytea not null,
    metadata bytea,
    stream_type varchar(40),
    stream varchar(200),
    sequence bigint,
    token_type varchar(200),
    token bytea,
    parked_at varchar(40) not null,
    touched_at varchar(40),
    claimed_at varchar(40),
    cause_type varchar,
    cause varchar,
    diagnostics bytea
);
create unique index parked_subject on parked (projection, subject, place);
