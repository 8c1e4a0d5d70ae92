#!/usr/bin/env python3
"""An archive of hoof notes through `chutescribe` on Apache Spark: records as Parquet, and how often what is found.

    archive.py --program chutescribe --out FOLDER ARCHIVE...

ARCHIVE: text files, or folders of them, with a note a line: day, tab, farm, tab, note. See README.md beside this.
"""
import argparse
import datetime
import os
import pathlib
import sys
import zlib

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
    """`((file, line), bytes)` of every line that is neither empty nor a comment, as the files have them.

    Lines are numbered within their file: a first pass counts the lines of each block of it, the second adds up.
    """
    from pyspark.sql import functions as f

    # Bytes, not text: what is not UTF-8 must reach the program as it is, to be told.
    text = spark.read.option("lineSep", "\n").text(paths).select(
        f.col("value").cast("binary"), "_metadata.file_path", "_metadata.file_block_start")
    blocks = text.groupBy("file_path", "file_block_start").count().orderBy("file_path", "file_block_start").collect()
    before, file = {}, None
    for path, start, count in blocks:
        if path != file:
            file, lines = path, 0
        before[path, start] = lines
        lines += count

    def numbered(rows):
        block, line = None, 0
        for value, path, start in rows:
            if (path, start) != block:
                block, line = (path, start), before[path, start]
            line += 1
            if line == 1:
                value = value.removeprefix(b"\xef\xbb\xbf")
            comment = value[:1] == b"#" and not value[1:2].isdigit()
            if value.strip() and not comment:
                yield (path.rsplit("/", 1)[-1], line), bytes(value)

    return text.rdd.mapPartitions(numbered)


def by_visit(lines, partitions):
    """Whole visits in a partition, in the order that the program wants: by day and farm, then as they stood.

    A cow that was not named is asked with the cow before her as an option, and what is said twice at a visit is told
    apart by its place: a visit that was cut in two would come out otherwise than on one machine.
    """

    def key(where, line):
        day, farm, *_ = [c.strip() for c in line.split(b"\t", 2)] + [b""]
        return (day, farm), where

    keyed = lines.map(lambda row: (key(*row), row))
    return keyed.repartitionAndSortWithinPartitions(
        partitions, partitionFunc=lambda key: zlib.crc32(b"\t".join(key[0])), keyfunc=lambda key: key).values()


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

    def read(partition, lines):
        from line_filter import through

        lines = iter(lines)
        first = next(lines, None)
        if first is None:
            return
        def again():
            yield first
            yield from lines
        command = [SparkFiles.get(name), "read", "--json", "--visits"]
        for row in through(command, environment, again(), keep_bad):
            yield (partition, *row)

    rows = by_visit(lines_of(spark, paths), partitions).mapPartitionsWithIndex(read)
    table = spark.createDataFrame(rows, "partition INT, line LONG, source STRING, source_line LONG, farm STRING, "
                                        "day STRING, record STRING, trouble STRING")
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
