-- Several farms and several nodes on one database.

-- At which numbers a farm is texted and called; by the first of them it texts and calls itself. Beside the log.
create table farm_number (
    number varchar(40) primary key,
    farm varchar(32) not null,
    place integer not null,
    unique (farm, place)
);

-- A message that comes again is its farm's, whatever farm its sender and number lead to by now.
create index field_text_id on field_text (text_id);

-- Which keys sign on this database: the public halves, so that no node signs with another.
create table signing_key (
    kind varchar(10) not null,
    place integer not null,
    public_key varchar(200) not null,
    primary key (kind, place),
    unique (kind, public_key)
);

-- What nodes do one after the other: whoever does it holds the row.
create table turn (
    name varchar(20) primary key
);
insert into turn (name) values ('farm');

-- Who is signed in, on whichever node. Of what the cookie says only its SHA-256 is kept.
create table visit (
    token varchar(64) primary key,
    account bigint not null,
    stamp integer not null,
    since timestamp with time zone not null,
    last timestamp with time zone not null,
    -- When the password was given last.
    proved timestamp with time zone not null
);
create index visit_account on visit (account);
