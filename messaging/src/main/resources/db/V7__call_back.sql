-- When a worker was last called back after a missed call, so that it is not done twice. Beside the log.
create table call_back (
    farm varchar(32) not null,
    worker varchar(16) not null,
    asked timestamp with time zone not null,
    primary key (farm, worker)
);
