"""Holds the figures of `lineside review` against those another engine counts from the same case files.

DuckDB reads every line of the files as they stand and works the figures out in SQL (figures.sql); with --spark Spark does
the same, in local mode. Every whole number must be equal: counts, sums of seconds, sums of millionths.
Usage: compare.py LINESIDE CASES [--spark] [--time]
"""

import json
import re
import resource
import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).parent
STATES = {"locked-out": "locked out", "running": "running, covers on", "energised": "energized", "firing": "burner on"}
COLUMNS = {
    "came-back": ["name", "came-back", "same", "other", "guessed"],
    "callback-place": ["place", "cases", "callbacks", "overturned"],
    "replaced": ["part", "cause", "cases", "proved"],
    "skipped": ["test", "skipped"],
    "live": ["state", "tests", "accepted", "without"],
    "live-technician": ["name", "tests", "accepted", "without"],
    "not-listed": ["words", "cases"],
    "surprising": ["test", "cases"],
}
BINS = ["0 to 20 %", "20 to 40 %", "40 to 60 %", "60 to 80 %", "80 to 90 %", "90 to 99 %", "99 % and more"]


def statements():
    """(what, name, sql) for each statement of figures.sql."""
    text = (HERE / "figures.sql").read_text(encoding="utf-8")
    for piece in re.split(r"^-- (?=view |table |groups )", text, flags=re.M)[1:]:
        head, sql = piece.split("\n", 1)
        what, *names = head.split()
        sql = "\n".join(line for line in sql.splitlines() if not line.startswith("--")).strip()
        for name in names:
            yield ("table" if what == "groups" else what), name, sql.replace("{key}", name)


class DuckDb:
    """DuckDB, version in requirements.txt."""

    def __init__(self, cases, tests):
        import duckdb

        self.name = f"DuckDB {duckdb.__version__}"
        self.base = duckdb.connect()
        self.base.execute((HERE / "duckdb.sql").read_text(encoding="utf-8").replace("{files}", f"{cases}/*.jsonl"))
        self.base.execute("create table tests (id varchar, state varchar, kind varchar)")
        self.base.executemany("insert into tests values (?, ?, ?)", tests)

    def view(self, name, sql):
        self.base.execute(f"create table {name} as {sql}")

    def rows(self, sql):
        return self.base.execute(sql).fetchall()


class Spark:
    """Spark in local mode, version in requirements-spark.txt; needs Java 17."""

    def __init__(self, cases, tests):
        import pyspark
        from pyspark.sql import SparkSession
        from pyspark.sql.functions import col, input_file_name, monotonically_increasing_id

        self.name = f"Spark {pyspark.__version__}"
        self.base = (
            SparkSession.builder.master("local[2]")
            .config("spark.ui.enabled", "false")
            .config("spark.ui.showConsoleProgress", "false")
            .config("spark.sql.session.timeZone", "UTC")
            # A hundred small queries: what is compiled and divided for large data would only cost.
            .config("spark.sql.shuffle.partitions", "1")
            .config("spark.sql.codegen.wholeStage", "false")
            .config("spark.sql.adaptive.enabled", "false")
            .config("spark.driver.memory", "2g")
            .getOrCreate()
        )
        self.base.sparkContext.setLogLevel("ERROR")
        share = "STRUCT<cause: STRING, probability: DOUBLE>"
        schema = (
            "id STRING, opened STRING, at STRING, event STRUCT<kind: STRING, complaint: STRING, equipment: STRING, "
            "technician: STRING, place: STRING, `case`: STRING, test: STRING, given: STRING, state: STRING, text: STRING, "
            f"cause: STRING, not_listed: STRING, proved: BOOLEAN, standing: ARRAY<STRUCT<hold: STRING, cleared: STRING>>, leader: {share}, leaders: ARRAY<{share}>, "
            "remainder: DOUBLE, halted: BOOLEAN>"
        )
        # A case file is at most 16 MiB, so it is one piece of the reading, and the numbers follow its lines.
        raw = self.base.read.schema(schema).json(str(cases))
        raw = raw.withColumn("file", input_file_name()).withColumn("n", monotonically_increasing_id())
        raw.createOrReplaceTempView("raw")
        self.view("lines", (HERE / "spark.sql").read_text(encoding="utf-8"))
        self.base.createDataFrame(tests, ["id", "state", "kind"]).createOrReplaceTempView("tests")

    def view(self, name, sql):
        self.base.sql(sql).cache().createOrReplaceTempView(name)

    def rows(self, sql):
        return [tuple(row) for row in self.base.sql(sql).collect()]


def parts(value):
    """The whole numbers behind one entry of ours."""
    if isinstance(value, dict):
        return [value["part"], value["of"]] if "part" in value else [value["sum"]]
    return [value]


def ours(name, table):
    """Rows of a table of ours in the form of the SQL."""
    rows = []
    for row in table:
        if name in COLUMNS:
            flat = [row[column] for column in COLUMNS[name]]
        elif name == "overview":
            value = row["figure"]
            flat = [row["what"]] + (parts(value) if isinstance(value, dict) else [value, None])
        elif name in ("complaint", "equipment", "technician", "month"):
            flat = [row["name"] or None, row["cases"], row["closed"]["part"], row["proved"]["part"],
                    row["came-back"]["part"], row["overturned"]["part"], row["right"]["part"], row["right"]["of"],
                    row["seconds"]["sum"], row["tests"]["sum"], row["skipped"]["sum"]]
        elif name == "cause":
            flat = [row["name"], row["cases"], row["share"]["of"], row["proved"], row["guessed"], row["came-back"]["part"],
                    row["overturned"]["part"], row["right"]["part"], row["right"]["of"]]
        elif name == "effort":
            flat = [row["measure"], row["mean"]["sum"], row["mean"]["of"]] + [
                row[key]["sum"] for key in ("half", "three-quarters", "nine-tenths", "most")]
        elif name == "calibration":
            if row["cases"] == 0:
                continue
            flat = [BINS.index(row["leader"]), row["cases"], row["said"]["sum"], row["right"]["part"]]
        else:
            raise SystemExit(f"no form for the table {name}")
        rows.append(tuple(flat))
    return rows


def theirs(name, rows):
    """Rows of SQL in the form of ours."""
    if name == "live":
        return [(STATES[state], *rest) for state, *rest in rows]
    return rows


def compare(engine, review):
    wrong, compared = [], 0
    for what, name, sql in statements():
        if what == "view":
            engine.view(name, sql)
            continue
        table = review["tables"][name]
        found = [tuple(int(v) if isinstance(v, bool) else v for v in row) for row in theirs(name, engine.rows(sql))]
        if name == "learned":
            # We show the causes that move most; each must have its number.
            number = {(complaint, cause): cases for complaint, cause, cases in found}
            mine = [(row["complaint"], row["cause"], row["cases"]) for row in table]
            found = [(complaint, cause, number.get((complaint, cause), 0)) for complaint, cause, _ in mine]
        elif name == "callback":
            # Words for people there, what they are made of here.
            mine = sorted((row["before"] or "", row["how-before"] or "", row["now"] or "") for row in table)
            how = {1: "proved", 0: "guess", None: ""}
            found = sorted((before or "", how[proved], now or "") for _, before, proved, now in found)
        else:
            mine = ours(name, table)
        mine, found = sorted(map(str, mine)), sorted(map(str, found))
        compared += len(mine)
        if mine != found:
            only = [row for row in mine if row not in found][:3], [row for row in found if row not in mine][:3]
            wrong.append(f"{name}: ours {only[0]}, theirs {only[1]}")
    print(f"{engine.name}: {compared} rows of {len(review['tables'])} tables, {len(wrong)} tables differ")
    for line in wrong:
        print(" ", line)
    return not wrong and compared > 100


def run(program, *arguments):
    return json.loads(subprocess.run([program, *arguments], check=True, capture_output=True).stdout)


def main():
    program, cases = sys.argv[1], Path(sys.argv[2]).resolve()
    begun = time.monotonic()
    review = run(program, "review", str(cases), "--no-index", "--format", "json")
    ours_took = time.monotonic() - begun
    ours_held = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    listed = run(program, "trees", "list", "tests", "--format", "json")["tests"]
    tests = [(test["id"], test["state"], test["kind"]) for test in listed]
    begun = time.monotonic()
    engine = (Spark if "--spark" in sys.argv else DuckDb)(cases, tests)
    good = compare(engine, review)
    if "--time" in sys.argv:
        # Of Spark this is the Python side; its Java is a process of its own.
        took, held = time.monotonic() - begun, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        print(f"{review['scope']['cases']} cases: ours {ours_took:.1f} s, {ours_held / 1024:.0f} MiB; "
              f"{engine.name} {took:.1f} s, {held / 1024:.0f} MiB")
    sys.exit(0 if good else 1)


main()
