"""`contactfe sweep`."""

import sys
from pathlib import Path

import click

from contactfe.cli.common import (
    INTERRUPTED,
    NOT_SATISFIED,
    NOT_SOLVED,
    case_argument,
    count_progress,
    fail,
    full_option,
    processes_option,
    say_spoiled,
    strict_option,
)


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FILE",
    help="Write the table to this file, .csv or .parquet; a name without an ending, or with /"
    " behind it, is that of a folder for table, page and record [default: the folder CASE-sweep in"
    " the current one].",
)
@full_option
@strict_option("every row was solved and passes every check, and nothing is open")
@processes_option
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    help="Let the workers of the Dask scheduler at this address do the work, such as"
    " tcp://10.0.0.5:8786; workers of one thread each suit best.",
)
def sweep(
    case_file: str,
    out: str | None,
    full: bool,
    strict: bool,
    processes: int | None,
    scheduler: str | None,
) -> None:
    """Solve a case with many values of its keys, into one table.

    The table [sweep] states keys and values.

    Each sample is kept in a record as it is finished: a sweep that was stopped goes on where it was
    when the same command is given again. A sample that cannot be solved is a row that says why.

    Exit status: 0 if solved, 1 with --strict if a row does not pass, 2 for bad input, 3 if no row
    could be solved, 130 if stopped.
    """
    from contactfe.assess.sweep.result import SweepResult
    from contactfe.assess.sweep.run import prepare, solve_samples
    from contactfe.assess.sweep.summary import summary
    from contactfe.case.reader import read_tables
    from contactfe.errors import InputError
    from contactfe.report.page import print_page
    from contactfe.report.sweep_files import (
        TABLES,
        check_sweep_files,
        check_unwritten,
        sweep_files,
        write_files,
    )
    from contactfe.report.sweep_page import sweep_answer, sweep_page
    from contactfe.report.sweep_record import sweep_record

    if processes is not None and scheduler is not None:
        raise InputError("--processes and --scheduler: state one of them")
    # A folder named like some other kind of table is hardly what was meant.
    named = out is not None and not (out.endswith("/") or Path(out).is_dir())
    if out is not None and named and Path(out).suffix not in {"", *TABLES}:
        raise InputError(
            f"--out {out}: must end in {' or '.join(TABLES)} for a table; a folder has no ending,"
            f" or is written {out}/"
        )
    prepared = prepare(read_tables(case_file), case_file)
    count = prepared.plan.count
    files = sweep_files(prepared.case, out)
    check_sweep_files(prepared, files)
    done = None
    try:
        with sweep_record(prepared, files.record) as record:
            say_spoiled(record)
            done = len(record)
            if done < count:
                check_unwritten(files)
            with count_progress("samples", "the table") as tell:
                tell(done, count)
                for sample in solve_samples(prepared, processes, scheduler, record):
                    record.add(sample)
                    done = len(record)
                    tell(done, count)
            record.check_there()
            found = summary(SweepResult(prepared.case, prepared.plan, record))
            written = write_files(found, files)
    except KeyboardInterrupt:
        if done is None:  # not yet begun
            raise
        fail(
            f"stopped: {done} of {count} samples are done, kept in {files.record}; the same command"
            " goes on",
            INTERRUPTED,
        )
    print_page(sweep_page(found) if full else sweep_answer(found))
    click.echo(f"written: {', '.join(map(str, written))}; record: {files.record}")
    if not found.solved:
        fail("not solved: none of the samples could be solved; the table says why", NOT_SOLVED)
    if strict and not found.settled:
        sys.exit(NOT_SATISFIED)
