"""Words that stand in the cells of cook logs: for what is missing, yes and no, and first words of rows that sum up others."""

from __future__ import annotations


def _words(listed: str) -> frozenset[str]:
    return frozenset(listed.split())


MISSING = _words(
    "- -- --- ---- – — −− n/a na n.a. n/a. nan none null nil ? ?? ??? . .. ... … k.a. k.a k/a o.a. s/d s.d. nd n.d."
    " n/d nc n.c. n/m nm missing fehlt x? tbd #n/a #na #div/0! #ref! #value! #num! #name? #null! err error ol o.l."
    " overload open nr n.r. ___ __ _ / // keine aucun ninguno notmeasured gap blank leer vide vacio forgot vergessen"
    " notweighed nottaken nottasted notscored notrecorded norecord nodata noreading notknown unknown unbekannt"
    " inconnu desconocido nichtgemessen nichtgewogen nichtprobiert nonmesuré nonpesé nopesado nomedido"
    " nonmisurato nonpesato nietgemeten nietgewogen niets nessuno"
)
"""Cells that say a value is not there (blanks within removed, lower case)."""

YES = _words(
    "yes y ja j oui o si s true t 1 x ✓ ✔ ☑ wahr vrai verdadero covered lid abgedeckt couvert tapado cubierto ok on done"
    " with mit avec con met sim sicher klar check checked true"
)
NO = _words(
    "no n nein non false f 0 ✗ ✘ ☐ falsch faux falso uncovered open offen ouvert destapado off abierto not"
    " nee nao geen without ohne sans senza zonder sin never kein keine"
)
"""Cells of yes/no columns."""

DONE = _words(
    "completed complete finished done fertig beendet abgeschlossen termine fini acheve terminado completado completo"
    " completato finito terminato afgerond klaar voltooid concluido"
)
"""Cells that say that a cook ran to its end, in a column of either sense."""

TOTALS = _words(
    "total totals sum sums mean means average averages avg ave median min max minimum maximum sd stdev std stddev"
    " stabw summe mittelwert mittel durchschnitt schnitt gesamt somme moyenne moy promedio media suma ø ⌀ ∑ σ x̄ range"
    " spread variance target targets soll sollwert ziel limit limits spec goal objetivo cible grenzwert lowest highest"
    " count anzahl cv totale best subtotal zwischensumme"
    " gemiddelde gemiddeld totaal som somma totali mediana moyennes medie durchschnittlich totalen mediaan"
    " gesamtsumme schnittwert medias subtotaal subtotale streefwaarde obiettivo"
)
"""First words of rows that sum up others or state what is wanted."""
