"""Number formats: what a format code does to a number. Code and value in, the section that applies out.

A format decides whether 46244 is a number or 10 August, and whether 0.75 is shown as 75%. The syntax is that of
ECMA-376 part 1, 18.8.30 and 18.8.31 (numFmts): up to four sections, quoted and escaped words, brackets.
"""

from __future__ import annotations

import operator
import re
from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache

from compiler.frozen import frozen

GENERAL = "General"
ISO_DATE = "yyyy-mm-dd"

_MONTH_DAY = 'm"月"d"日"'
BUILT_IN: dict[int, str] = {
    0: GENERAL,
    1: "0",
    2: "0.00",
    3: "#,##0",
    4: "#,##0.00",
    9: "0%",
    10: "0.00%",
    11: "0.00E+00",
    12: "# ?/?",
    13: "# ??/??",
    14: "mm-dd-yy",
    15: "d-mmm-yy",
    16: "d-mmm",
    17: "mmm-yy",
    18: "h:mm AM/PM",
    19: "h:mm:ss AM/PM",
    20: "h:mm",
    21: "h:mm:ss",
    22: "m/d/yy h:mm",
    37: "#,##0 ;(#,##0)",
    38: "#,##0 ;[Red](#,##0)",
    39: "#,##0.00;(#,##0.00)",
    40: "#,##0.00;[Red](#,##0.00)",
    45: "mm:ss",
    46: "[h]:mm:ss",
    47: "mm:ss.0",
    48: "##0.0E+0",
    49: "@",
    # East Asian numbers differ by language. Those that are month and day in Japanese, Chinese or Taiwanese
    # files are taken so; where the languages disagree the code is a whole date, which recovers nothing.
    **dict.fromkeys((27, 28, 29, 31, 34, 35, 36, 50, 51, 52, 54, 55, 57), "yyyy/m/d"),
    30: "m/d/yy",
    32: "h:mm",
    33: "h:mm:ss",
    **dict.fromkeys((53, 56, 58), _MONTH_DAY),
}
"""Format codes by their built-in number; 14 and 22 are shown in the order of the reader's own country."""

_TOKEN = re.compile(
    r'"(?P<quoted>[^"]*)"?'
    r"|\\(?P<escaped>.)"
    r"|[_*]."
    r"|\[(?P<bracket>[^\]]*)\]?"
    r"|(?P<half_day>am/pm|a/p)"
    r"|(?P<general>general)"
    r"|(?P<scientific>e[+-])"
    r"|(?P<date>y+|m+|d+|h+|s+|e+|g+|b+|a{3,})"
    r"|(?P<digits>[0#?][0#?,]*(?:\.[0#?]*)?|\.[0#?]+)"
    r"|(?P<percent>%)"
    r"|(?P<text>@)"
    r"|(?P<other>.)",
    re.IGNORECASE | re.DOTALL,
)
_CONDITION = re.compile(r"(<=|>=|<>|<|>|=)\s*(-?[0-9]+(?:\.[0-9]+)?)$")
_COMPARED: dict[str, Callable[[Decimal, Decimal], bool]] = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "=": operator.eq,
    "<>": operator.ne,
}
_ELAPSED = re.compile(r"h+|m+|s+", re.IGNORECASE)
_ERA_YEARS = frozenset("egb")


@frozen
class Section:
    """One section of a format, as far as it tells what a number means.

    `dates` are the date parts in the order shown: y, m, d for days, h, n (minutes), s for times, w for eras and
    weekdays. `before` and `after` are the literal words round the digits.
    """

    before: str = ""
    after: str = ""
    digits: str = ""
    percent: bool = False
    scientific: bool = False
    fraction: bool = False
    dates: tuple[str, ...] = ()
    year_digits: int = 0
    elapsed: bool = False
    half_day: bool = False
    text: bool = False

    @property
    def is_date(self) -> bool:
        """True where the number is shown as a day or a time."""
        return bool(self.dates)

    @property
    def days_only(self) -> frozenset[str]:
        """The parts of a day that are shown: of y, m and d."""
        return frozenset(self.dates) & frozenset("ymd")

    @property
    def times(self) -> frozenset[str]:
        """The parts of a time that are shown: of h, n and s."""
        return frozenset(self.dates) & frozenset("hns")

    @property
    def is_time(self) -> bool:
        """True where the number is shown as a time without a day."""
        return bool(self.times) and not self.days_only

    @property
    def decimals(self) -> int | None:
        """How many decimals are shown; None where the format leaves it open."""
        if not self.digits:
            return None
        return len(self.digits.partition(".")[2].replace(",", ""))

    @property
    def words(self) -> str:
        """The literal words, where a unit or a sign may hide that the value does not have."""
        return f"{self.before} {self.after}".strip()


@frozen
class _Condition:
    """Which numbers a section is for: `[>=100]`."""

    holds: Callable[[Decimal, Decimal], bool]
    limit: Decimal


@lru_cache(maxsize=1024)
def _sections(code: str) -> tuple[tuple[_Condition | None, Section], ...]:
    """Return (condition, section) in order. Formats repeat, so each is read once."""
    pieces: list[list[re.Match[str]]] = [[]]
    for token in _TOKEN.finditer(code):
        if token.group("other") == ";":
            pieces.append([])
        else:
            pieces[-1].append(token)
    return tuple((_condition(piece), _section(piece)) for piece in pieces[:4])


def _condition(tokens: list[re.Match[str]]) -> _Condition | None:
    for token in tokens:
        found = _CONDITION.match(token.group("bracket") or "")
        if found:
            return _Condition(_COMPARED[found[1]], Decimal(found[2]))
    return None


def _section(tokens: list[re.Match[str]]) -> Section:
    before, after, digits = "", "", ""
    dates: list[str] = []
    year_digits = 0
    flags = {"percent": False, "scientific": False, "elapsed": False, "half_day": False, "text": False}
    for token in tokens:
        kind = token.lastgroup
        match kind:
            case "digits":
                digits = digits or token.group()
            case "date":
                letters = token.group().casefold()
                year_digits = max(year_digits, len(letters) if letters[0] == "y" else 0)
                dates.append(_part(letters, dates))
                if letters[0] == "s" and len(dates) > 1 and dates[-2] == "m":
                    dates[-2] = "n"
            case "bracket" if _ELAPSED.fullmatch(token.group(kind)):
                dates.append({"h": "h", "m": "n", "s": "s"}[token.group(kind)[0].casefold()])
                flags["elapsed"] = True
            case "percent" | "scientific" | "half_day" | "text":
                flags[kind] = True
            case "quoted" | "escaped" | "other" | "bracket":
                literal = _literal(kind, token.group(kind))
                before, after = (before, after + literal) if digits or dates else (before + literal, after)
            case _:
                digits = digits or (GENERAL if kind == "general" else "")
    number = "" if digits == GENERAL or dates else digits
    fraction = bool(number) and "/" in after and not dates
    return Section(before, after, number, dates=tuple(dates), year_digits=year_digits, fraction=fraction, **flags)


def _part(letters: str, so_far: list[str]) -> str:
    first = letters[0]
    if first == "m":
        return "n" if so_far and so_far[-1] == "h" else "m"
    if first in _ERA_YEARS:
        return "y"
    if first == "a" or (first == "d" and len(letters) > 2):
        return "w"
    return first


def _literal(kind: str, text: str) -> str:
    """Return the words of a token; of brackets only a currency sign is one."""
    if kind != "bracket":
        return text
    return text[1:].partition("-")[0] if text.startswith("$") else ""


def section_for(code: str, value: Decimal) -> Section:
    """Return the section of a format that shows this value."""
    sections = _sections(code)
    if len(sections) == 1:
        return sections[0][1]
    if any(condition for condition, _ in sections[:2]):
        for condition, section in sections:
            if condition is None or condition.holds(value, condition.limit):
                return section
        return sections[-1][1]
    if value < 0:
        return sections[1][1]
    if value == 0 and len(sections) > 2:
        return sections[2][1]
    return sections[0][1]


def has_dates(code: str) -> bool | None:
    """Tell whether a format shows every number as a day or a time, or none; None where it depends on the number."""
    kinds = {section.is_date for _, section in _sections(code) if not section.text}
    return kinds.pop() if len(kinds) == 1 else (None if kinds else False)
