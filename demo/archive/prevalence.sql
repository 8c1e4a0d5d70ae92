-- How often what is found at each farm, as `chutescribe herd` counts (Spark SQL; `notes` as archive.py writes it).
-- A share is of cows examined. What an open question concerns is in `waiting` until it is answered, what was not
-- certain is in `uncertain`, and neither is in `cows`. archive.sql is the same for DuckDB.
WITH asking AS (
    SELECT *, lower(trim(farm)) AS herd, lower(trim(cow)) AS tag,
           transform(filter(coalesce(flags, array()), f -> f.level = 'ask'), f -> f.field) AS asked
    FROM notes WHERE trouble IS NULL
), judged AS (
    -- Nothing of an entry counts where its cow is not known, or a question is about no part of it in particular.
    SELECT *, cow IS NULL OR exists(asked, q ->
               NOT q RLIKE '^(scores|findings|actions|clear|measures|due)(\\[[0-9]+\\](\\..+)?)?$') AS whole
    FROM asking
), found AS (
    SELECT herd, tag, id, finding.*,
           whole OR exists(asked, q -> startswith(concat(q, '.'), concat('findings[', nth, '].'))) AS waits
    FROM judged LATERAL VIEW posexplode(findings) AS nth, finding
), done AS (
    -- What was done waits with a finding whose foot is not known.
    SELECT herd, tag, action.what,
           exists(asked, q -> startswith(concat(q, '.'), concat('actions[', nth, '].')))
             OR (action.foot IS NULL AND action.what NOT IN ('trim', 'vet')
                 AND exists(coalesce(findings, array()), f -> f.foot IS NULL)) AS waits
    FROM judged LATERAL VIEW posexplode(actions) AS nth, action
    WHERE NOT whole
), looked AS (
    SELECT herd, tag, exists(asked, q -> startswith(concat(q, '.'), concat('clear[', nth, '].')) OR q = 'clear') AS waits
    FROM judged LATERAL VIEW posexplode(clear) AS nth, foot WHERE NOT whole
    UNION ALL
    SELECT herd, tag, exists(asked, q -> startswith(concat(q, '.'), concat('measures[', nth, '].')))
    FROM judged LATERAL VIEW posexplode(measures) AS nth, measure WHERE NOT whole
    UNION ALL SELECT herd, tag, waits FROM found
    UNION ALL SELECT herd, tag, waits FROM done WHERE what <> 'vet'
), herds AS (
    SELECT herd, min(farm) AS farm, count_if(size(asked) > 0) AS waiting FROM judged GROUP BY herd
), examined AS (
    SELECT herd, count(DISTINCT tag) AS of FROM looked WHERE NOT waits GROUP BY herd
), shares AS (
    SELECT herd, coalesce(disorder, 'open') AS what,
           count(DISTINCT tag) FILTER (WHERE NOT waits AND disorder IS NOT NULL
                                         AND coalesce(certain, true) AND coalesce(course, '') <> 'healed') AS cows,
           count_if(NOT waits AND NOT coalesce(certain, true)) AS uncertain,
           count(DISTINCT id) FILTER (WHERE waits) AS waiting
    FROM found GROUP BY ALL
    UNION ALL
    SELECT h.herd, 'any lesion',
           count(DISTINCT tag) FILTER (WHERE NOT waits AND disorder IS NOT NULL
                                         AND coalesce(certain, true) AND coalesce(course, '') <> 'healed'),
           count_if(NOT waits AND NOT coalesce(certain, true)),
           any_value(h.waiting)
    FROM herds h LEFT JOIN found f ON f.herd IS NOT DISTINCT FROM h.herd GROUP BY h.herd
), parts AS (
    SELECT farm, what, cows, coalesce(of, 0) AS of, uncertain, s.waiting,
           cows / nullif(of, 0) AS p, 3.841458820694124D / nullif(of, 0) AS zz -- of the normal distribution, squared
    FROM shares s JOIN herds h ON s.herd IS NOT DISTINCT FROM h.herd
                  LEFT JOIN examined e ON s.herd IS NOT DISTINCT FROM e.herd
)
SELECT farm, what, cows, of, round(100 * p, 1) AS percent,
       -- Wilson's 95 % limits.
       round(100 * greatest(0, (p + zz / 2 - sqrt(zz * p * (1 - p) + zz * zz / 4)) / (1 + zz)), 1) AS low,
       round(100 * least(1, (p + zz / 2 + sqrt(zz * p * (1 - p) + zz * zz / 4)) / (1 + zz)), 1) AS high,
       uncertain, waiting
FROM parts ORDER BY farm, what <> 'any lesion', cows DESC, what
