-- What can be erased of a worker. The rows stay, so that a message that is delivered again is still known.
alter table field_text alter column words drop not null;
alter table field_text alter column salt drop not null;

-- The index: when all that is personal of a worker was erased. Her pseudonym is never given again.
alter table enrolled add column erased timestamp with time zone;
