-- The ledger: which event is which leaf of its farm's tree, the tree's tiles, and what was signed.
-- It is written once and never made anew.
create table ledger_leaf (
    farm varchar(32) not null,
    leaf bigint not null,
    event_id varchar(64) not null,
    primary key (farm, leaf),
    unique (farm, event_id)
);

create table ledger_tile (
    farm varchar(32) not null,
    tile_level integer not null,
    tile_index bigint not null,
    hashes bytea not null,
    primary key (farm, tile_level, tile_index)
);

create table ledger_checkpoint (
    farm varchar(32) not null,
    tree_size bigint not null,
    note varchar not null,
    signed timestamp with time zone not null,
    primary key (farm, tree_size)
);
