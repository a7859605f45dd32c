"""Attacks on contactfe by generated and mutated files: `python tests/attack.py --cases 10000`.

Prints how each attack ended, by kind, and keeps the text of what ended in a fault.
"""

import argparse
import contextlib
import io
import os
import resource
import signal
import subprocess
import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from typing import Any

import click
import extremes
import generated
import mutated

from contactfe import cli as command_line
from contactfe.case.reader import case_from_dict, read_tables
from contactfe.case.wording import visible
from contactfe.errors import InputError, SolveError

ROOT = Path(__file__).parents[1]
MOST_SECONDS = 15.0
"""Processor time of one step: of the slowest, all evaluations of an impact, 6 s on a slow core."""
MOST_BYTES = 4e9
LONGEST_LINE = 1500
"""Characters of one line of a refusal: what is allowed may be a list of some 20 names."""

RIGHT = {
    "done", "refused", "not solved", "not asked", "not satisfied", "stopped", "covered",
    "in balance",
}  # fmt: skip
"""How a step may end."""


@dataclass(frozen=True)
class Ended:
    """How one step of an attack ended, and what a fault was."""

    kind: str
    step: str
    how: str
    detail: str = ""
    seconds: float = 0.0

    @property
    def fault(self) -> bool:
        """Whether it must not be so."""
        return self.how not in RIGHT


class TooLong(BaseException):
    """A step took longer than it may."""


@contextlib.contextmanager
def limited(seconds: float) -> Iterator[None]:
    """Raise TooLong in what takes the processor longer, which others may be using as well."""

    def stop(*_: object) -> None:
        raise TooLong

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)


def tried(
    work: Callable[[], object], seconds: float = MOST_SECONDS, names: str = ""
) -> tuple[object, str, str]:
    """What a step gives, how it ended, and why; its refusal has to name a key."""
    said = io.StringIO()
    try:
        with (
            warnings.catch_warnings(action="error"),
            contextlib.redirect_stderr(said),
            limited(seconds),
        ):
            found = work()
    except InputError as error:
        odd = odd_message(str(error), names)
        return None, f"odd refusal: {odd}" if odd else "refused", str(error)
    except SolveError as error:
        odd = odd_message(str(error), "")
        return None, f"odd refusal: {odd}" if odd else "not solved", str(error)
    except TooLong:
        return None, "too long", ""
    except MemoryError as error:
        return None, "out of memory", _traced(error)
    except Exception as error:
        return None, f"fault: {type(error).__name__}", _traced(error)
    return found, f"said: {said.getvalue()[:200]}" if said.getvalue() else "done", ""


def _traced(error: BaseException) -> str:
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if "contactfe" in frame.filename.split("/tests/")[0]]
    places = [f"{Path(f.filename).name}:{f.lineno} {f.name}" for f in (*ours[-3:], frames[-1])]
    return f"{type(error).__name__}: {str(error)[:300]} at {' < '.join(reversed(places))}"


def odd_message(message: str, names: str) -> str:
    """What is not as it must be in the message of a refusal; empty where nothing is."""
    lines = message.splitlines() or [""]
    if len(lines) > 21:
        return f"{len(lines)} lines"
    if max(map(len, lines)) > LONGEST_LINE:
        return f"{max(map(len, lines))} characters on a line"
    if not message.strip() or visible(message) != message:
        return "not printable"
    if names and names not in message:
        return f"does not name {names}"
    return ""


def attacked(
    path: Path, kind: str, names: str = "", to: float = 0.25, solve: bool = False
) -> Iterator[Ended]:
    """Read a case and work it out by the commands that mesh nothing, and how that ended."""

    def step(name: str, work: Callable[[], object], key: str = "") -> tuple[Ended, Any]:
        start = time.process_time()
        found, how, detail = tried(work, names=key)
        return Ended(kind, name, how, detail, time.process_time() - start), found

    ended, read = step("read", lambda: _read(path), names)
    yield ended
    if read is None:
        return
    tables, case = read
    yield step("hand", lambda: _hand(case))[0]
    own = case.motion is not None and case.motion.contact_law.law == "section"
    if case.motion is None or (own and not solve):
        yield Ended(kind, "impact", "not asked")
    else:
        yield step("impact", lambda: _impact(case))[0]
    yield step("scale", lambda: _scale(case, tables, to))[0]


def _read(path: Path) -> Any:
    tables = read_tables(path)
    return tables, case_from_dict(tables, str(path))


def _hand(case: Any) -> None:
    from contactfe.assess.by_hand.case import by_hand
    from contactfe.report.by_hand import by_hand_page, hand_answer
    from contactfe.report.hand_document import hand_document
    from contactfe.report.steps import steps_page

    _shown(by_hand(case), hand_document, hand_answer, by_hand_page, steps_page)


def _impact(case: Any) -> None:
    from contactfe.assess.impact import impact_force
    from contactfe.report.impact_output import OUTPUT

    if case.motion.contact_law.law == "section":  # a curve is meshed and solved for: seconds
        case = replace(case, sections=case.sections[:1])
    _shown(impact_force(case, 1), OUTPUT.document, OUTPUT.answer, OUTPUT.page)


def _scale(case: Any, tables: Any, to: float) -> None:
    from contactfe.case.specimen import asked_scale, specimen
    from contactfe.report.scale import scale_answer, scale_page
    from contactfe.report.scale_document import scale_document
    from contactfe.report.specimen_file import write_specimen

    folder = Path(case.source).parent
    found = specimen(case, tables, asked_scale(case, None if case.scale else to), folder)
    _shown(found, scale_document, scale_answer, scale_page)
    with tempfile.TemporaryDirectory(dir=folder) as beside:
        found = specimen(case, tables, asked_scale(case, None if case.scale else to), Path(beside))
        write_specimen(found, Path(beside) / "specimen.toml")


def _shown(found: Any, document: Callable[[Any], Any], *pages: Callable[[Any], Any]) -> None:
    """What is printed of an answer. Every character of a page can be seen."""
    from contactfe.report import json_file, page

    json_file.as_text(document(found))
    for of in pages:
        text = page.as_text(of(found))
        assert "nan" not in text.split(), "nan on a page"


# Cases.


def case_text(kind: str, by: Random) -> tuple[str, str]:
    """The text of a case of a kind, and a name that its refusal must have."""
    if kind == "valid":
        return generated.text_of(generated.valid(by)), ""
    if kind == "nearly valid":
        wrong = generated.nearly_valid(by)
        lone = wrong.what in {"twice", "unknown"}  # a line of TOML, a key that may be in quotes
        return wrong.text, "" if lone else wrong.key
    return generated.hostile(by)[0], ""


KINDS = "valid", "nearly valid", "hostile"


def attack_of_case(kind: str, by: Random, folder: Path) -> tuple[list[Ended], str]:
    """One generated case, how it ended, and its text."""
    text, names = case_text(kind, by)
    path = folder / "cases" / "case.toml"
    path.write_text(text, encoding="utf-8", errors="surrogatepass")
    return list(
        attacked(path, kind, names, round(by.uniform(0.01, 1.0), 3), by.random() < 0.1)
    ), text


@contextlib.contextmanager
def place() -> Iterator[Path]:
    """A folder with a folder of cases, beside one of meshes as in this repository."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        (folder / "cases").mkdir()
        (folder / "meshes").symlink_to(ROOT / "meshes")
        yield folder


def attack_of_file(kind: str, by: Random, folder: Path) -> tuple[list[Ended], str]:
    """One file with mutated bytes, of the kinds that contactfe reads."""
    if kind == "case":
        content = mutated.mutated(by, by.choice(mutated.CASES).read_bytes())
        path = folder / "cases" / "case.toml"
        path.write_bytes(content)
        return list(attacked(path, "case")), content.decode("latin-1")
    name = kind
    if kind == "mesh":
        work, name = mutated.mesh_read(by, folder)
    elif kind == "results":
        work = mutated.results_read(by, folder)
    else:
        work = mutated.record_read(kind, by, folder)
    start = time.process_time()
    _, how, detail = tried(work)
    return [Ended(kind, "read", how, detail, time.process_time() - start)], name


FILES = "case", "mesh", *mutated.RECORDS, "results"


def attack_of_extreme(kind: str, by: Random, _folder: Path) -> tuple[list[Ended], str]:
    """Post and plate at the ends of what can be stated, held against closed forms."""
    of = extremes.EXTREMES[kind](by)
    start = time.process_time()
    found, how, detail = tried(lambda: extremes.judged(of), 8.0 * MOST_SECONDS)
    if isinstance(found, tuple):
        how, detail = found
    return [Ended(kind, "solve", how, f"{detail} of {of}", time.process_time() - start)], repr(of)


# Whole processes.

MOST_WAIT = 60.0
"""Seconds that a command may take; a study that takes longer is stopped, and has to stop."""
TO_STOP = 20.0
PARAMETERS: Mapping[str, tuple[str, ...]] = {
    "FOLDER": ("out", "out", "cases", "no/such/place"),
    "FILE": ("-", "answer.json", "cases/case.toml", "no/such/file", "t.csv", "r.pdf"),
    "FILE.toml": ("new.toml", "cases/case.toml", ".", "\x1b.toml"),
    "SPECIMEN.toml": ("specimen.toml", "cases/case.toml", "."),
    "PERCENT": ("2 %", "5 %", "0 %", "nan %", "x", ""),
    "SCALE": ("0.25", "0.01", "nan", "inf", "-1", "1e-300"),
    "N": ("1", "2", "0", "x", "9" * 30),
    "ADDRESS": ("nowhere", "tcp://127.0.0.1:1"),
    "[TEXT]": ("layer", "ring", "zzz", "[b]", "\x1b", "a" * 5000),
}
"""What an option or an argument may be, by what the command's help calls it."""


def words_of(command: click.Command, by: Random) -> list[str]:
    """The words of a command on the case at hand: its options as it declares them."""
    found = []
    for parameter in command.params:
        shown = parameter.metavar or "N"
        if isinstance(parameter.type, click.Choice):
            known = [*parameter.type.choices, "\x1b[31m"]
        elif shown == "CASE.toml":
            known = ["cases/case.toml"]
        else:
            known = list(PARAMETERS[shown])
        known += 3 * len(known) * known[:1]  # mostly one that goes
        if isinstance(parameter, click.Argument):
            found.append(by.choice(known))
        elif by.random() < 0.25:
            flag = getattr(parameter, "is_flag", False)
            found += [parameter.opts[0]] if flag else [parameter.opts[0], by.choice(known)]
    return found


def attack_of_run(kind: str, by: Random, folder: Path) -> tuple[list[Ended], str]:
    """A command as a process of its own, on a case of any kind or one with mutated bytes."""
    of = by.choice(["valid", "valid", "valid", "nearly valid", "hostile", "mutated"])
    if of == "mutated":
        content = mutated.mutated(by, by.choice(mutated.CASES).read_bytes())
    elif of == "valid" and kind in generated.SCHEMA["properties"]:  # which needs its table
        while kind not in (data := generated.valid(by)) or generated.at_fault(data):
            pass
        content = generated.text_of(data).encode()
    else:
        content = case_text(of, by)[0].encode("utf-8", "surrogatepass")
    (folder / "cases" / "case.toml").write_bytes(content)
    words = words_of(command_line.cli.commands[kind], by)
    told = f"contactfe {kind} {' '.join(words)}"
    start = time.perf_counter()
    how, detail = ended_process([kind, *words], folder)
    seconds = time.perf_counter() - start
    return [Ended(of, kind, how, f"{told}: {detail}", seconds)], content.decode("latin-1")


def ended_process(words: Sequence[str], folder: Path) -> tuple[str, str]:
    """How a command ends, as its status and what it says on standard error show."""
    limited_by = "/bin/sh", "-c", f'ulimit -v {MOST_BYTES / 1024:.0f}; exec "$@"', "sh"
    process = subprocess.Popen(
        [*limited_by, sys.executable, "-m", "contactfe", *words], cwd=folder,
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        start_new_session=True,
        env=os.environ | {"PYTHONPATH": str(ROOT), "OMP_NUM_THREADS": "1"},
    )  # fmt: skip
    stopped = False
    try:
        _, heard = process.communicate(timeout=MOST_WAIT)
    except subprocess.TimeoutExpired:
        stopped = True
        os.killpg(process.pid, signal.SIGINT)
        try:
            _, heard = process.communicate(timeout=TO_STOP)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.communicate()
            return "deaf: does not stop", ""
    said, status = heard.decode(errors="replace"), process.returncode
    if "Traceback" in said or "fault of contactfe itself" in said or "Warning" in said:
        return f"fault: status {status}", said[-600:]
    if status == 3 and "out of memory" in said:
        return "out of memory", said
    allowed = {0: "done", 1: "not satisfied", 2: "refused", 3: "not solved"} | (
        {130: "stopped"} if stopped else {}
    )
    if status not in allowed or (status == 1) > ("--strict" in words):
        return f"fault: status {status}", said[-600:]
    if status in {2, 3} and (odd := odd_message(said.rstrip("\n"), "")):
        return f"odd refusal: {odd}", said[:600]
    return allowed[status], said[:200]


Attack = Callable[[str, Random, Path], tuple[list[Ended], str]]
ATTACKS: dict[str, tuple[Attack, tuple[str, ...]]] = {
    "cases": (attack_of_case, KINDS),
    "files": (attack_of_file, FILES),
    "extremes": (attack_of_extreme, tuple(extremes.EXTREMES)),
    "runs": (attack_of_run, tuple(command_line.cli.commands)),
}
"""What attacks, and the kinds that it takes in turn."""


def run(of: str, seed: int, numbers: Iterable[int]) -> list[tuple[int, list[Ended], str]]:
    """Attacks of a kind by their numbers."""
    resource.setrlimit(resource.RLIMIT_AS, (int(MOST_BYTES), int(MOST_BYTES)))
    found = []
    with place() as folder:
        for number in numbers:
            attack, kinds = ATTACKS[of]
            ended, text = attack(kinds[number % len(kinds)], Random(f"{seed} {number}"), folder)
            found.append((number, ended, text if any(e.fault for e in ended) else ""))
    return found


def main() -> int:
    """Run as many attacks as are asked for; the status is 1 where one found a fault."""
    parser = argparse.ArgumentParser(description=__doc__)
    for of in ATTACKS:
        parser.add_argument(f"--{of}", type=int, default=0, metavar="N", help=f"attacks by {of}")
    parser.add_argument("--seed", type=int, default=None, help="of the random numbers [random]")
    parser.add_argument("--keep", type=Path, default=Path("attack-faults"), metavar="FOLDER")
    parser.add_argument("--processes", type=int, default=os.cpu_count())
    asked = parser.parse_args()
    seed = int.from_bytes(os.urandom(4)) if asked.seed is None else asked.seed
    print(f"seed {seed}")
    counts: Counter[tuple[str, str, str, str]] = Counter()
    slowest: dict[str, float] = {}
    faults: Counter[str] = Counter()
    with ProcessPoolExecutor(asked.processes) as pool:
        todo = {}
        for of in ATTACKS:
            count = getattr(asked, of)
            many = 4 if of == "runs" else 30
            for start in range(0, count, many):
                job = pool.submit(run, of, seed, range(start, min(start + many, count)))
                todo[job] = of, start
        for job in as_completed(todo):
            of, start = todo[job]
            try:
                found = job.result()
            except Exception as error:  # a worker that died
                print(f"{of} from {start}: {type(error).__name__}: {error}", file=sys.stderr)
                faults[f"{of}: died"] += 1
                continue
            print(f"{of} from {start}", file=sys.stderr)
            for number, ended, text in found:
                for one in ended:
                    counts[of, one.kind, one.step, one.how] += 1
                    slowest[one.step] = max(slowest.get(one.step, 0.0), one.seconds)
                    if one.fault:
                        told = f"{one.kind}, {one.step}: {one.how}: {one.detail}"
                        faults[told] += 1
                        if faults[told] <= 3:
                            asked.keep.mkdir(exist_ok=True)
                            name = asked.keep / f"{of}-{seed}-{number}.txt"
                            name.write_text(f"# {visible(told)}\n{text}", errors="surrogatepass")
    for (of, kind, step, how), count in sorted(counts.items()):
        print(f"{of:10} {kind:14} {step:8} {how[:60]:60} {count:7}")
    print("slowest, s:", ", ".join(f"{step} {slow:.2f}" for step, slow in slowest.items()))
    for told, count in faults.most_common(60):
        print(f"{count:5} x {told[:400]}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
