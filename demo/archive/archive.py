#!/usr/bin/env python3
"""An archive of hoof notes through `chutescribe` on Apache Spark: records as Parquet, and how often what is found.

    archive.py --program chutescribe --out FOLDER ARCHIVE...

ARCHIVE: text files, or folders of them, with a note a line: day, tab, farm, tab, note. See README.md beside this.
"""
import argparse
import datetime
import itertools
import os
import pathlib
import sys

HERE = pathlib.Path(__file__).resolve().parent

# The fields of an entry (README.md, "The log"), typed for Parquet. `record` beside them is the entry's own line.
ENTRY = """
    id STRING, visit STRING, cow STRING,
    scores ARRAY<STRUCT<scale: STRING, value: INT, `when`: STRING>>,
    findings ARRAY<STRUCT<foot: STRING, claw: STRING, zones: ARRAY<INT>, disorder: STRING, severity: INT,
                          stage: STRING, course: STRING, certain: BOOLEAN>>,
    actions ARRAY<STRUCT<what: STRING, foot: STRING, claw: STRING, material: STRING, agent: STRING, lost: BOOLEAN>>,
    clear ARRAY<STRING>,
    measures ARRAY<STRUCT<what: STRING, value: DOUBLE, unit: STRING, foot: STRING, claw: STRING, at: STRING>>,
    due ARRAY<STRUCT<what: STRING, on: DATE, foot: STRING>>,
    remarks ARRAY<STRING>, assumed ARRAY<STRING>,
    flags ARRAY<STRUCT<level: STRING, kind: STRING, field: STRING, message: STRING, options: ARRAY<STRING>,
                       at: ARRAY<INT>>>,
    said STRING"""


def session(master, partitions, **settings):
    """A Spark session. `local-cluster` starts its workers as processes of their own, out of SPARK_HOME, which pip's
    package does not set; by this machine's own address none of them needs a name for it."""
    import pyspark
    from pyspark.sql import SparkSession

    os.environ.setdefault("SPARK_HOME", str(pathlib.Path(pyspark.__file__).parent))
    os.environ.setdefault("PYSPARK_PYTHON", sys.executable)
    builder = SparkSession.builder.appName("hoof notes").config("spark.sql.shuffle.partitions", partitions)
    builder = builder.config("spark.ui.showConsoleProgress", "false")
    if master:
        builder = builder.master(master)
    if master and master.startswith("local"):
        os.environ.setdefault("SPARK_LOCAL_IP", "127.0.0.1")
        builder = builder.config("spark.driver.host", "127.0.0.1").config("spark.ui.enabled", "false")
    for name, value in settings.items():
        builder = builder.config("spark." + name.replace("_", "."), value)
    return builder.getOrCreate()


def lines_of(spark, paths):
    """`source`, `source_line` and `text` of every line that is neither empty nor a comment.

    Lines are numbered within their file: a first pass counts those of each block of it, the second adds up.
    """
    from pyspark.sql import functions as f

    # Bytes, not text: what is not UTF-8 must reach the program as it is, to be told.
    lines = spark.read.option("lineSep", "\n").text(paths).select(
        f.col("value").cast("binary").alias("text"), f.col("_metadata.file_path").alias("path"),
        f.col("_metadata.file_block_start").alias("block"), f.monotonically_increasing_id().alias("id"))
    blocks = lines.groupBy("path", "block").agg(f.min("id").alias("first"), f.count("*").alias("lines"))
    starts, last, line = [], None, 0
    for path, block, first, count in blocks.orderBy("path", "block").collect():
        line = line if path == last else 0
        starts.append((path, block, line + 1 - first))
        line, last = line + count, path
    starts = f.broadcast(spark.createDataFrame(starts, "path STRING, block LONG, add LONG"))
    numbered = lines.join(starts, ["path", "block"]).select(
        f.regexp_extract("path", "[^/]*$", 0).alias("source"), (f.col("id") + f.col("add")).alias("source_line"), "text")
    mark = "source_line = 1 AND hex(substring(text, 1, 3)) = 'EFBBBF'"
    return numbered.withColumn("text", f.expr(f"CASE WHEN {mark} THEN substring(text, 4) ELSE text END")).where(
        ~f.col("text").cast("string").rlike(r"^(\s*$|#(\D|$))"))


def by_visit(lines, partitions):
    """Whole visits in a partition, in the order that the program wants: by day and farm, then as they stood.

    A cow that was not named is asked with the cow before her as an option, and what is said twice at a visit is told
    apart by its place: a visit that was cut in two would come out otherwise than on one machine.
    """
    from pyspark.sql import functions as f

    columns = f.split(f.col("text").cast("string"), "\t", 3)
    for place, name in enumerate(("day", "farm")):
        lines = lines.withColumn(name, f.trim(f.get(columns, f.lit(place))))
    return lines.repartition(partitions, "day", "farm").sortWithinPartitions("day", "farm", "source", "source_line")


def notes(spark, paths, program, partitions, keep_bad, now):
    """The table of notes: one row an entry with the partition and the line it comes from, one row a bad line."""
    from pyspark import SparkFiles
    from pyspark.sql import functions as f

    context = spark.sparkContext
    context.addFile(str(program))
    context.addPyFile(str(HERE / "line_filter.py"))
    name = pathlib.Path(program).name
    # No words that somebody taught the program on one of the machines change what it says, and one time is on all lines.
    environment = {"XDG_DATA_HOME": "/nonexistent", "CHUTESCRIBE_NOW": now}

    def read(partition, rows):
        from line_filter import through

        rows = iter(rows)
        first = next(rows, None)
        if first is None:
            return
        command = [SparkFiles.get(name), "read", "--json", "--visits"]
        lines = (((row.source, row.source_line), bytes(row.text)) for row in itertools.chain([first], rows))
        for row in through(command, environment, lines, keep_bad):
            yield (partition, *row)

    rows = by_visit(lines_of(spark, paths), partitions).rdd.mapPartitionsWithIndex(read)
    table = spark.createDataFrame(rows, "partition INT, line LONG, source STRING, source_line LONG, farm STRING, "
                                        "day STRING, record STRING, trouble STRING", verifySchema=False)
    entry = f.from_json("record", ENTRY, {"mode": "FAILFAST"})
    return table.withColumn("day", f.col("day").cast("date")).withColumn("entry", entry).select(
        "partition", "line", "source", "source_line", "farm", "day", "entry.*", "record", "trouble")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("archive", nargs="+", metavar="ARCHIVE")
    parser.add_argument("--program", required=True, type=pathlib.Path, help="the binary; it is sent to the workers")
    parser.add_argument("--out", required=True, help="folder for the Parquet files; must not be there yet")
    parser.add_argument("--partitions", type=int, default=8, help="processes in all; some per core of the cluster")
    parser.add_argument("--master", default="local-cluster[2,1,1024]",
                        help="two workers on this machine, unless it says another cluster; '' for spark-submit's own")
    parser.add_argument("--keep-bad", action="store_true",
                        help="lines that cannot be read become rows with their `trouble`, instead of stopping the job")
    args = parser.parse_args()
    if not args.program.is_file():
        parser.error(f"there is no program `{args.program}`")
    spark = session(args.master, args.partitions)
    spark.sparkContext.setLogLevel("ERROR")
    try:
        now = datetime.datetime.now(datetime.timezone.utc).isoformat(timespec="seconds")
        table = notes(spark, args.archive, args.program.resolve(), args.partitions, args.keep_bad, now)
        table.write.parquet(args.out)
        spark.read.parquet(args.out).createOrReplaceTempView("notes")
        report(spark)
    except Exception as why:
        # Spark's own story is a page of Java; what the filter said is in the middle of it.
        lines = [line for line in str(why).splitlines() if not line.lstrip().startswith(("at ", "File "))]
        sys.exit("the job failed:\n" + "\n".join(lines[:40]))
    finally:
        spark.stop()


def prevalence(spark):
    """The herd's table, out of the view `notes`."""
    return spark.sql((HERE / "prevalence.sql").read_text())


def report(spark):
    entries, asked, bad = spark.sql(
        "SELECT count(id), count_if(exists(flags, f -> f.level = 'ask')), count(trouble) FROM notes").first()
    print(f"{entries} entries; {asked} wait for an answer, and what they ask does not count; {bad} lines not read")
    prevalence(spark).show(200, truncate=False)


if __name__ == "__main__":
    main()
