-- From which network somebody signed in, so that she can tell her own sessions; null for those that were begun before.
alter table visit add column network varchar(64);
