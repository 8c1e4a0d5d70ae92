-- How often what is found at each farm, by DuckDB: the same table as prevalence.sql makes in Spark.
--
--   chutescribe read --json --visits archive.txt > archive.jsonl
-- and then in DuckDB, after this file, from the lines or from what archive.py wrote:
--
--   CREATE VIEW notes AS FROM of_lines('archive.jsonl');
--   CREATE VIEW notes AS FROM of_parquet('FOLDER');
--   FROM prevalence('notes');

-- Entries out of JSON lines, each with the farm of its visit.
CREATE OR REPLACE MACRO of_lines(file) AS TABLE
    WITH lines AS (
        SELECT * FROM read_json(file, format = 'newline_delimited', columns = {
            kind: 'VARCHAR', id: 'VARCHAR', visit: 'VARCHAR', farm: 'VARCHAR', cow: 'VARCHAR',
            findings: 'STRUCT(foot VARCHAR, disorder VARCHAR, course VARCHAR, certain BOOLEAN)[]',
            actions: 'STRUCT(what VARCHAR, foot VARCHAR)[]', clear: 'VARCHAR[]', measures: 'STRUCT(what VARCHAR)[]',
            flags: 'STRUCT(level VARCHAR, field VARCHAR)[]'})
    )
    SELECT v.farm, e.id, e.cow, e.findings, e.actions, e.clear, e.measures, e.flags
    FROM lines e JOIN lines v ON v.kind = 'visit' AND v.id = e.visit WHERE e.kind = 'entry';

-- Entries as archive.py wrote them.
CREATE OR REPLACE MACRO of_parquet(files) AS TABLE
    SELECT farm, id, cow, findings, actions, clear, measures, flags
    FROM read_parquet(files || '/*.parquet') WHERE trouble IS NULL;

-- Whether one of the open questions is about this part of the entry: `findings[0]`, or `findings[0].claw` of it.
CREATE OR REPLACE MACRO is_asked(asked, part) AS
    len(list_filter(asked, lambda q: starts_with(q || '.', part || '.'))) > 0;

-- What of each entry counts, as `chutescribe herd` has it.
CREATE OR REPLACE MACRO counting(notes) AS TABLE
    WITH asking AS (
        SELECT *, list_transform(list_filter(coalesce(flags, []), lambda f: f.level = 'ask'), lambda f: f.field) AS asked
        FROM query_table(notes)
    ), judged AS (
        -- Nothing of an entry counts where its cow is not known, or a question is about no part of it in particular.
        SELECT *, cow IS NULL OR len(list_filter(asked, lambda q: NOT regexp_full_match(q,
                    '(scores|findings|actions|clear|measures|due)(\[[0-9]+\](\..+)?)?'))) > 0 AS whole
        FROM asking
    )
    SELECT lower(trim(farm)) AS herd, farm, id, lower(trim(cow)) AS tag, len(asked) > 0 AS waits,
           list_transform(findings, lambda f, i: {
               disorder: f.disorder, waits: whole OR is_asked(asked, 'findings[' || (i - 1) || ']'),
               certain: coalesce(f.certain, true), healed: coalesce(f.course = 'healed', false)}) AS findings,
           -- A foot was in the hand. What was done waits with a finding whose foot is not known.
           NOT whole AND (
             len(list_filter(findings, lambda f, i: NOT is_asked(asked, 'findings[' || (i - 1) || ']'))) > 0
             OR len(list_filter(measures, lambda m, i: NOT is_asked(asked, 'measures[' || (i - 1) || ']'))) > 0
             OR len(list_filter(clear, lambda c, i: NOT is_asked(asked, 'clear[' || (i - 1) || ']')
                                                     AND NOT list_contains(asked, 'clear'))) > 0
             OR len(list_filter(actions, lambda a, i: a.what <> 'vet' AND NOT is_asked(asked, 'actions[' || (i - 1) || ']')
                    AND (a.foot IS NOT NULL OR a.what = 'trim'
                         OR len(list_filter(coalesce(findings, []), lambda f: f.foot IS NULL)) = 0))) > 0
           ) AS examined
    FROM judged;

-- What an open question concerns is in `waiting` until it is answered, what was not certain is in `uncertain`, and
-- neither is in `cows`.
CREATE OR REPLACE MACRO prevalence(notes) AS TABLE
    WITH entries AS (
        SELECT * FROM counting(notes)
    ), herds AS (
        SELECT herd, min(farm) AS farm, count(*) FILTER (WHERE waits) AS waiting,
               count(DISTINCT tag) FILTER (WHERE examined) AS of
        FROM entries GROUP BY herd
    ), found AS (
        SELECT herd, id, tag, unnest(findings, recursive := true) FROM entries
    ), each AS (
        SELECT *, NOT waits AND disorder IS NOT NULL AND certain AND NOT healed AS there, NOT waits AND NOT certain AS unsure
        FROM found
    ), shares AS (
        SELECT herd, coalesce(disorder, 'open') AS what, count(DISTINCT tag) FILTER (WHERE there) AS cows,
               count(*) FILTER (WHERE unsure) AS uncertain, count(DISTINCT id) FILTER (WHERE waits) AS waiting
        FROM each GROUP BY ALL
        UNION ALL
        SELECT h.herd, 'any lesion', count(DISTINCT tag) FILTER (WHERE there), count(*) FILTER (WHERE unsure),
               any_value(h.waiting)
        FROM herds h LEFT JOIN each e ON e.herd IS NOT DISTINCT FROM h.herd GROUP BY h.herd
    ), parts AS (
        SELECT h.farm, s.what, s.cows, h.of, s.uncertain, s.waiting,
               s.cows / nullif(h.of, 0) AS p, 3.841458820694124 / nullif(h.of, 0) AS zz -- of the normal distribution, squared
        FROM shares s JOIN herds h ON h.herd IS NOT DISTINCT FROM s.herd
    )
    SELECT farm, what, cows, of, round(100 * p, 1) AS percent,
           -- Wilson's 95 % limits.
           round(100 * greatest(0, (p + zz / 2 - sqrt(zz * p * (1 - p) + zz * zz / 4)) / (1 + zz)), 1) AS low,
           round(100 * least(1, (p + zz / 2 + sqrt(zz * p * (1 - p) + zz * zz / 4)) / (1 + zz)), 1) AS high,
           uncertain, waiting
    FROM parts ORDER BY farm, what <> 'any lesion', cows DESC, what;
