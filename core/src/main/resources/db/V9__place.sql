-- Where a farm is, for its sun; null where it did not say.
alter table farm add column latitude double precision;
alter table farm add column longitude double precision;
