"""A program card for a phone: one page by itself, no script, nothing fetched from elsewhere. Every text is escaped."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from html import escape

import segno

from tuner.domain.card import KeyedProgram, ProgramCard

_STYLE = """
:root{color-scheme:light dark;--ink:light-dark(#1E2422,#ECE9E2);--muted:light-dark(#56605B,#A9B0AB);--paper:light-dark(#FBFAF6,#151A1A);
--plate:light-dark(#EFEDE6,#212828);--line:light-dark(#C9C6BC,#3D4745);--air:light-dark(#B35C00,#EFA04B);
--microwave:light-dark(#5A3D94,#B9A0F0);--outside:light-dark(#A3113F,#FF7F9B)}
*{box-sizing:border-box}body{margin:0 auto;max-width:34rem;padding:1rem;background:var(--paper);color:var(--ink);
font:1.05rem/1.4 'Atkinson Next','Source Sans',system-ui,sans-serif;font-variant-numeric:tabular-nums}
h1{font-size:1.75rem;line-height:1.15;margin:.2rem 0;overflow-wrap:anywhere}h2{font-size:.85rem;color:var(--muted);margin:1.4rem 0 .3rem}
.m{color:var(--muted);font-size:.9rem}.big{font-size:1.6rem;font-weight:700}.r{background:var(--ink);color:var(--paper);padding:.6rem;font-weight:700}
.strip{display:grid;grid-template-rows:4rem 4rem auto;gap:0 3px;text-align:center}.up{display:flex;align-items:flex-end;background:var(--plate);border-bottom:2px solid var(--ink)}
.up i{display:block;width:100%;background:var(--air)}.down{background:var(--plate)}.down i{display:block;background:var(--microwave)}
table{width:100%;border-collapse:collapse}th{font-size:.8rem;color:var(--muted);text-align:start}td,th{padding:.35rem .2rem;border-bottom:1px solid var(--line)}
td{font-size:1.25rem;font-weight:700}.a{color:var(--air)}.w{color:var(--microwave)}tr.u td{color:var(--muted);font-weight:400;font-size:1rem}
.plate{background:var(--plate);padding:.8rem;font-weight:700}.x{color:var(--outside);font-weight:700}dl{display:grid;grid-template-columns:auto 1fr;gap:.2rem .8rem;margin:0}
dt{color:var(--muted)}dd{margin:0;font-weight:700}ul{padding-inline-start:1.2rem;margin:.2rem 0}img{max-width:100%;height:auto}.q{background:#fff;padding:8px;width:11rem}
"""


def program_card_html(card: ProgramCard) -> str:
    """The card as one HTML page; the same card gives the same text."""
    restricted = '<p class="r">RESTRICTED: measure each portion and log it before it is served.</p>'
    expires = f", expires {card.expires_on.isoformat()}" if card.expires_on else ""
    whose = " · ".join(escape(part) for part in (card.customer, card.site, card.claim) if part)
    parts = [
        restricted if card.standing == "restricted" else "",
        f'<h1 dir="auto">{escape(card.dish)}</h1>',
        f'<p class="m">Version {card.number}, released {card.released_on.isoformat()}{expires}<br>{whose}</p>',
        f"<h2>Before the oven</h2><p class='big'>{'<br>'.join(escape(line) for line in card.start)}</p>",
        _list((card.placement.words, *card.before)),
        _photo(card.photo),
        "<h2>Program</h2>",
        _facts(card.program, card.unit),
        _strip(card.program),
        _table(card.program),
        f"<h2>Then rest</h2><p class='big'>{card.rest_s:g} s, {escape(card.rest_words)}</p>{_list(card.after)}",
        "<h2>Probe</h2>",
        f"<p class='big'>{escape(card.must_read)}</p>" if card.must_read else "",
        _list(card.probe),
        "<h2>Too cold?</h2>",
        _top_up(card),
        f"<p class='x'>{escape(card.discard)}</p>",
        f"<h2>Allergens</h2><p class='plate' dir='auto'>{escape(card.allergens)}</p>",
        f"<h2>Take care</h2>{_list(f'{code} {text}' for code, text in card.cautions)}",
        f"<h2>Also</h2>{_list((*card.hold, card.limit))}",
        f"<h2>Signed</h2>{_list(card.signed)}",
        f'<p class="m">Release {card.sha256[:16]}. Still in force? <a href="{escape(card.link)}">{escape(card.link)}</a></p>',
        _code(card.link),
    ]
    head = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(card.dish)}, version {card.number}</title><style>{_STYLE}</style></head><body><main>"
    )
    return head + "\n".join(part for part in parts if part) + "</main></body></html>\n"


def _list(lines: Iterable[str]) -> str:
    items = "".join(f'<li dir="auto">{escape(line)}</li>' for line in lines)
    return f"<ul>{items}</ul>" if items else ""


def _facts(program: KeyedProgram, unit: str) -> str:
    return (
        f"<dl><dt>Air temperature</dt><dd>{program.air_temperature:g} °{unit}</dd>"
        f"<dt>Whole time</dt><dd>{program.duration_s:g} s</dd>"
        f"<dt>Read-back word</dt><dd>{escape(program.word)}</dd></dl>"
        '<p class="m">Type what the oven shows into the page behind the code: another word means a wrong digit.</p>'
    )


def _strip(program: KeyedProgram) -> str:
    columns = " ".join(f"{stage.share_pct:g}fr" for stage in program.stages)
    up = "".join(f'<div class="up"><i style="height:{stage.air_speed_pct:g}%"></i></div>' for stage in program.stages)
    down = "".join(f'<div class="down"><i style="height:{stage.microwave_pct:g}%"></i></div>' for stage in program.stages)
    numbers = "".join(f"<b>{number}</b>" for number in range(1, len(program.stages) + 1))
    words = "; ".join(
        f"stage {number}: {stage.share_pct:g} % of the time, air speed {stage.air_speed_pct:g} %, microwave {stage.microwave_pct:g} %"
        for number, stage in enumerate(program.stages, start=1)
    )
    return (
        f'<div class="strip" role="img" aria-label="{escape(words)}" style="grid-template-columns:{columns}">{up}{down}{numbers}</div>'
        '<p class="m">up: air speed, down: microwave</p>'
    )


def _table(program: KeyedProgram) -> str:
    rows = []
    for slot in range(program.slots):
        if slot < len(program.stages):
            stage = program.stages[slot]
            rows.append(
                f"<tr><td>{slot + 1}</td><td>{stage.share_pct:g}</td><td class='a'>{stage.air_speed_pct:g}</td>"
                f"<td class='w'>{stage.microwave_pct:g}</td></tr>"
            )
        else:
            rows.append(f"<tr class='u'><td>{slot + 1}</td><td>0</td><td>0</td><td>0 (not used)</td></tr>")
    heads = "<tr><th>stage</th><th>share of the time %</th><th>air speed %</th><th>microwave %</th></tr>"
    return f"<table><thead>{heads}</thead><tbody>{''.join(rows)}</tbody></table>"


def _top_up(card: ProgramCard) -> str:
    if card.top_up is None:
        return ""
    return f"<p><b>Top-up, once:</b></p>{_facts(card.top_up, card.unit)}{_table(card.top_up)}"


def _photo(photo: bytes | None) -> str:
    if photo is None:
        return ""
    return f'<p><img alt="the result" src="data:image/jpeg;base64,{base64.b64encode(photo).decode("ascii")}"></p>'


def _code(link: str) -> str:
    svg = segno.make(link, error="m", micro=False).svg_inline(omitsize=True, border=4)
    return f'<div class="q" role="img" aria-label="code of this release">{svg}</div>'
