-- What was said of a subject lies in the log by stream, and is read there. Where each tie was put on stays.
drop table history_act_1;
drop table history_act_2;
create index history_tie_position_1 on history_tie_1 (position);
create index history_tie_position_2 on history_tie_2 (position);
