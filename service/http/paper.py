"""Pages for the wall: plain HTML that prints well, in black on white, with boxes to tick and lines to write on.

Whatever came from a caller is escaped here; a page holds no script and asks nobody for anything.
"""

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from typing import Any, Final

Answer = Mapping[str, Any]

POLICY: Final = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
BOX: Final = "<span class='box' role='img' aria-label='to tick'></span>"
LINE: Final = "<span class='line'></span>"

_GRAVE: Final = {"danger": "Danger", "caution": "Take care", "note": "To know"}
_PAGE: Final = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<link rel="icon" href="data:,">
<title>{title}</title>
<style>
@page {{ margin: 14mm; }}
body {{ font: 12pt/1.35 sans-serif; color: #000; background: #fff; }}
body {{ max-width: 54rem; margin: 1rem auto; padding: 0 1rem; }}
h1 {{ font-size: 22pt; margin: 0 0 .2em; }}
h2 {{ font-size: 14pt; margin: 1.1em 0 .3em; break-after: avoid; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ border-bottom: 1px solid #777; padding: .3em .5em; text-align: left; vertical-align: baseline; }}
tr {{ break-inside: avoid; }}
.big {{ font-size: 18pt; font-weight: bold; text-align: right; white-space: nowrap; }}
.right {{ text-align: right; white-space: nowrap; }}
.box {{ display: inline-block; width: .85em; height: .85em; border: 2px solid #000; vertical-align: -.1em; }}
.line {{ display: inline-block; min-width: 7em; border-bottom: 1px solid #000; }}
.danger {{ border: 3px solid #000; padding: .4em .8em; }}
ul {{ margin: .2em 0; padding-left: 1.2em; }}
small {{ font-size: 9pt; }}
.wide {{ overflow-x: auto; }}
@media print {{ body {{ margin: 0; padding: 0; max-width: none; }} }}
</style>
</head>
<body>
{body}
</body>
</html>
"""


def paper(title: str, parts: Iterable[str]) -> bytes:
    """A page.

    Args:
        title: its title, not yet escaped.
        parts: its HTML.
    """
    return _PAGE.format(title=escape(title), body="\n".join(part for part in parts if part)).encode()


def number(figure: Answer) -> str:
    """A figure without its unit: as exact as a scale or a thermometer shows it."""
    value, unit = figure["value"], figure["unit"]
    if unit == "1":
        return f"{value:.0f}"
    decimals = 1 if unit in {"°C", "°F", "K", "delta_degF"} else 2
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".")


def quantity(figure: Answer) -> str:
    """A figure with its unit; a count has none."""
    unit = figure["unit"].replace("_", " ")
    return number(figure) if unit == "1" else f"{number(figure)} {escape(unit)}"


def percent(figure: Answer, decimals: int = 1) -> str:
    """A share in per cent."""
    return f"{100.0 * figure['value']:.{decimals}f} %"


def heading(text: str) -> str:
    """A heading of a part."""
    return f"<h2>{escape(text)}</h2>"


def table(header: Sequence[str], rows: Iterable[Sequence[str]], classes: Sequence[str] = ()) -> str:
    """A table; nothing where it has no rows.

    Args:
        header: plain texts.
        rows: cells as HTML.
        classes: of the columns, empty for none.
    """
    marks = [f" class='{one}'" if one else "" for one in classes] + [""] * (len(header) - len(classes))
    lines = ["<tr>" + "".join(f"<td{mark}>{cell}</td>" for mark, cell in zip(marks, row, strict=True)) for row in rows]
    if not lines:
        return ""
    head = "".join(
        f"<th{mark.replace('big', 'right')} scope='col'>{escape(one)}" for mark, one in zip(marks, header, strict=True)
    )
    return f"<div class='wide'><table><thead><tr>{head}</thead><tbody>{''.join(lines)}</tbody></table></div>"


def dangers(answer: Answer) -> str:
    """What is dangerous, in a frame, first of all."""
    found = [one["message"] for one in answer["cautions"] if one["severity"] == "danger"]
    if not found:
        return ""
    return f"<section class='danger'><h2>Danger</h2>{_list(found)}</section>"


def other_cautions(answer: Answer) -> str:
    """The cautions that are not dangers, and what was assumed."""
    parts = []
    for severity in ("caution", "note"):
        found = [one["message"] for one in answer["cautions"] if one["severity"] == severity]
        if found:
            parts.append(heading(_GRAVE[severity]) + _list(found))
    if answer["assumed"]:
        told = [f"{one['pointer']}: {one['value']} ({one['why']})" for one in answer["assumed"]]
        parts.append(heading("Assumed, since it was not told") + _list(told))
    return "".join(parts)


def steps(answer: Answer) -> str:
    """The steps of the calculation, where they were asked for."""
    rows = (
        (escape(one["name"]), f"<code>{escape(one['expression'])}</code>", _worked(one["result"]))
        for one in answer.get("steps", ())
    )
    told = table(("step", "reckoned as", "gives"), rows, ("", "", "right"))
    return heading("How it was reckoned") + told if told else ""


def _worked(figure: Answer) -> str:
    return escape(f"{figure['value']:.6g} {figure['unit']}".removesuffix(" 1"))


def _list(texts: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(one)}' for one in texts)}</ul>"


def foot(answer: Answer) -> str:
    """The last line."""
    return (
        f"<p><small>Lyestock, data {escape(answer['data_version'])}. Weigh twice. This sheet does not replace the "
        "safety data sheet, local rules, or a licensed assessor.</small></p>"
    )
