"""`tuner verify`, `recipe`, `release`, `card`: from a proven program to a signed recipe that others cook."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tuner.cli.documents import read_bytes, read_model, read_program
from tuner.cli.entry import DONE, REFUSED, UsageError
from tuner.cli.passwords import asked_password
from tuner.cli.session import Session, chosen_development, opened
from tuner.domain.recipe import Recipe
from tuner.services import cards, evidence, recipes, release_files, release_signing, releasing
from tuner.services.release_reading import ReleaseView

if TYPE_CHECKING:
    from tuner.cli.output import Output


def verify(arguments: argparse.Namespace, output: Output) -> int:
    """Check a release file by itself."""
    check = release_files.verify_file(read_bytes(arguments.file), known_keys=tuple(arguments.key) or None)
    signers = [f"{one.role}: {one.name}, {one.signed_at:%Y-%m-%d %H:%M} UTC, key {one.key_id}" for one in check.signers]
    data = {
        "whole": check.whole,
        "problems": check.problems,
        "warnings": check.warnings,
        "sha256": check.sha256,
        "dish": None if check.document is None else check.document.dish,
        "number": None if check.document is None else check.document.number,
        "standing": None if check.document is None else check.document.standing,
        "signers": signers,
    }

    def show() -> list[str]:
        if not check.whole or check.document is None:
            return ["NOT WHOLE: do not cook from it.", *(f"  {problem}" for problem in check.problems)]
        head = f"Whole: {check.document.dish}, version {check.document.number}, {check.document.standing}."
        return [head, *(f"  signed: {line}" for line in signers), *(f"  note: {line}" for line in check.warnings)]

    output.answer(data, lambda: [_plain_text(line) for line in show()])
    return DONE if check.whole else REFUSED


def recipe(arguments: argparse.Namespace, output: Output) -> int:
    """Show, keep or scale the recipe of a development."""
    with opened(arguments) as session:
        development_id = chosen_development(session, arguments.development)
        if arguments.file:
            view: recipes.RecipeView | None = recipes.save_recipe(
                session.space,
                session.who,
                development_id=development_id,
                recipe=read_model(arguments.file, Recipe),
                photo=None if arguments.photo is None else read_bytes(arguments.photo),
                reason=arguments.reason,
            )
        else:
            view = recipes.view_recipe(session.space, session.who, development_id=development_id)
        scaled = None
        if arguments.portions is not None:
            scaled = recipes.scale_recipe(
                session.space, session.who, development_id=development_id, portions=arguments.portions
            )
    if view is None:
        raise UsageError("there is no recipe yet. Give its JSON file.")
    shown = scaled or view.recipe
    data = {
        "recipe": shown.model_dump(mode="json", exclude_unset=True),
        "version": view.version,
        "missing": view.missing,
        "allergens": {
            "contains": view.allergens.contains,
            "may_contain": view.allergens.may_contain,
            "unknown": view.allergens.unknown,
        },
    }

    def show() -> list[Any]:
        lines = [f"Version {view.version}, for {shown.portions or '?'} portions"]
        lines += [f"  {one.name}: {'?' if one.amount_g is None else f'{one.amount_g:g} g'}" for one in shown.ingredients]
        lines += [view.allergens.in_words(), *(f"missing: {part}" for part in view.missing)]
        return [_plain_text(line) for line in lines]

    output.answer(data, show)
    return DONE


def release(arguments: argparse.Namespace, output: Output) -> int:
    """One step of a release, or the state of its versions."""
    with opened(arguments) as session:
        development_id = chosen_development(session, arguments.development)
        if arguments.action == "draft":
            done = _drafted(arguments, session, development_id)
        else:
            versions = releasing.list_releases(session.space, session.who, development_id=development_id)
            if arguments.action == "show":
                output.answer([_plain(one) for one in versions], lambda: [_plain_text(_line(one)) for one in versions])
                return DONE
            version = _chosen(versions, arguments.number)
            if arguments.action in ("export", "evidence"):
                return _filed(arguments, session, version, output)
            done = _STEPS[arguments.action](session, version, arguments)
        gaps = releasing.release_checklist(session.space, session.who, release_id=done.id)
    output.answer({**_plain(done), "gaps": gaps}, lambda: [_plain_text(line) for line in (_line(done), *gaps)])
    return DONE


def card(arguments: argparse.Namespace, output: Output) -> int:
    """Issue a program card."""
    with opened(arguments) as session:
        development_id = chosen_development(session, arguments.development)
        versions = releasing.list_releases(session.space, session.who, development_id=development_id)
        in_force = tuple(one for one in versions if one.in_force)
        version = _chosen(in_force or versions, arguments.number)
        issued = cards.issue_card(
            session.space,
            session.who,
            release_id=version.id,
            form=arguments.format,
            site=arguments.site,
            unit=arguments.unit,
            address=arguments.address,
        )
    _write(issued.data, arguments.output)
    output.remark(f"Card of version {version.number}; read-back word: {issued.word}")
    return DONE


def _drafted(arguments: argparse.Namespace, session: Session, development_id: str) -> ReleaseView:
    if not arguments.program:
        raise UsageError("which program? Give --program.")
    return releasing.draft_release(
        session.space,
        session.who,
        development_id=development_id,
        program=read_program(arguments.program),
        reason=arguments.reason,
        revision=arguments.revision,
    )


def _signed(session: Session, version: ReleaseView, arguments: argparse.Namespace) -> ReleaseView:
    if not arguments.role:
        raise UsageError(f"in which role? Give --role; still to sign: {', '.join(version.waits_for) or 'nobody'}.")
    password = asked_password(f"your password, {session.who.name}, for this signature")
    return release_signing.sign_release(
        session.space, session.who, release_id=version.id, role=arguments.role, password=password
    )


def _sealed(session: Session, version: ReleaseView, arguments: argparse.Namespace) -> ReleaseView:
    sites = tuple(arguments.restricted_to)
    return releasing.seal_release(
        session.space, session.who, release_id=version.id, standing="restricted" if sites else "released", sites=sites
    )


def _withdrawn(session: Session, version: ReleaseView, arguments: argparse.Namespace) -> ReleaseView:
    password = asked_password(f"your password, {session.who.name}")
    return releasing.withdraw_release(
        session.space, session.who, release_id=version.id, reason=arguments.reason or "", password=password
    )


_STEPS: dict[str, Callable[[Session, ReleaseView, argparse.Namespace], ReleaseView]] = {
    "candidate": lambda session, version, _: releasing.propose_candidate(session.space, session.who, release_id=version.id),
    "proving": lambda session, version, _: releasing.begin_proving(session.space, session.who, release_id=version.id),
    "proven": lambda session, version, _: releasing.mark_proven(session.space, session.who, release_id=version.id),
    "seal": _sealed,
    "sign": _signed,
    "return": lambda session, version, arguments: releasing.return_release(
        session.space, session.who, release_id=version.id, reason=arguments.reason or ""
    ),
    "withdraw": _withdrawn,
}


def _chosen(versions: tuple[ReleaseView, ...], number: int | None) -> ReleaseView:
    if not versions:
        raise UsageError("there is no version yet. Begin with `tuner release draft --program PROGRAM`.")
    if number is None:
        return versions[-1]
    found = next((one for one in versions if one.number == number), None)
    if found is None:
        raise UsageError(f"there is no version {number}. There are: {', '.join(str(one.number) for one in versions)}.")
    return found


def _filed(arguments: argparse.Namespace, session: Session, version: ReleaseView, output: Output) -> int:
    make = release_files.export_release if arguments.action == "export" else evidence.evidence_pack
    _write(make(session.space, session.who, release_id=version.id), arguments.output)
    output.remark(f"Version {version.number}, {version.state}.")
    return DONE


def _write(data: bytes, name: str | None) -> None:
    if name is None:
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    else:
        Path(name).write_bytes(data)


def _plain(version: ReleaseView) -> dict[str, Any]:
    return {
        "id": version.id,
        "number": version.number,
        "state": version.state,
        "program": version.program.model_dump(mode="json"),
        "sha256": version.sha256,
        "signed": [f"{one.role}: {one.name}" for one in version.signed],
        "waits_for": version.waits_for,
    }


def _line(version: ReleaseView) -> str:
    waiting = f"; waits for {', '.join(version.waits_for)}" if version.waits_for and version.state == "proven" else ""
    return f"Version {version.number}: {version.state}{waiting}"


def _plain_text(text: str) -> Any:
    from rich.text import Text

    return Text(text)
