-- Witnesses: of each log that this server witnesses the checkpoint that it saw last, as the log signed it; and what
-- others gave for the checkpoints of this server's farms.
create table witnessed (
    origin varchar not null,
    tree_size bigint not null,
    note varchar not null,
    witnessed timestamp with time zone not null,
    primary key (origin)
);

create table ledger_cosignature (
    farm varchar(32) not null,
    tree_size bigint not null,
    witness varchar not null,
    line varchar not null,
    received timestamp with time zone not null,
    primary key (farm, tree_size, witness)
);
