"""The words that headings of cook logs are made of, in the languages kitchens write them, by what they stand for.

Words are without accents and in lower case. One word may stand for several things; rules in `naming` weigh them together.
Compounds ("Kerntemperatur", "weightin") are taken apart along these words.
"""

from __future__ import annotations


def _words(listed: str) -> frozenset[str]:
    return frozenset(listed.split())


CONCEPTS: dict[str, str] = {
    "core": (
        "core int kern coeur nucleo internal interne interna interno inner center centre centro mitte coldest kt"
        " probe probes sonde sondes sonda sondas fuhler fuehler thermocouple thermocouples tc messpunkt messpunkte"
        " messstelle innen interieur alma reading readings lecture lectura cuore kerntemp messwert messwerte"
        " kerntemperatuur"
    ),
    "place": (
        "place places position positions stelle stellen punto puntos point points spot spots lugar emplacement location ort"
    ),
    "temp": (
        "temp temps temperature temperatures temperatur temperaturen temperatura temperaturas tempe tmp temper temperatuur"
    ),
    "start": (
        "start starting initial initially initiale inicial begin beginning beginn before raw vor vorher anfang"
        " anfangs depart debut inicio in ein roh cru crue crudo cruda uncooked precook pre entry entree entrada"
        " avant antes incoming eingang input inlet uncook iniz iniziale voor begintemperatuur inizio"
    ),
    "end": (
        "out end ending final after post nach nachher ende cooked cuit cuite cocido cocida finale fin apres despues"
        " salida sortie aus gegart gar finished exit output outlet postcook finito na eind fine depois"
    ),
    "mass": (
        "mass weight weights wt wgt gewicht gewichte gew masse poids peso pesos masa weighed waage gramm gramme"
        " grammes gramos portionsgewicht weighing massa"
    ),
    "portion": (
        "portion portions porcion porciones ration piece pieces stuck stueck food product produkt produit producto"
        " gargut meat fillet filet slice patty"
    ),
    "air": (
        "air fan luft umluft aire ventilador ventilation ventilateur vent blower geblase geblaese lufter luefter"
        " airflow heissluft heiszluft convection viento flujo konvektion ventola aria lueftung luftung airspeed"
        " lucht"
    ),
    "speed": "speed speeds vel velocity geschwindigkeit geschw vitesse velocidad drehzahl tempo",
    "microwave": (
        "mw microwave microwaves mikrowelle mikrowellen mikro microonda microondas mo magnetron uw micro wave mwave"
        " mwp microonde"
    ),
    "power": "power leistung puissance potencia potenza powerlevel",
    "level": "level levels niveau nivel setting stellung grad intensity",
    "share": (
        "share shares split splits anteil anteile proportion fraction fractions ratio part parts partie cuota"
        " porcentaje teil zeitanteil zeitanteile percentage portionoftime repartition reparto parte quota"
    ),
    "time": (
        "duur time times duration durations dauer zeit zeiten garzeit duree durees duracion tiempo tiempos cooktime"
        " laufzeit runtime length kochzeit backzeit gardauer timer temps tijd durata tempo"
    ),
    "lasts": (
        "duration durations dauer duree durees duracion laufzeit runtime length gardauer kochzeit backzeit garzeit"
        " cooktime durata duur"
    ),
    "seconds": "sec secs second seconds sek sekunde sekunden minute minutes minuten secondes segundos minutos mins",
    "clock": "clock uhrzeit hora heure oclock uhr",
    "total": "total overall gesamt totale entire whole",
    "date": "date datum fecha day tag jour dia timestamp when datetime jours datestamp data",
    "until": (
        "until till bis jusque hasta upto switch switchover cumulative cum change changeover kumuliert umschaltung endet ends"
    ),
    "stage": (
        "stage stages step steps phase phases stufe stufen etape etapes etapa etapas schritt schritte fase fases"
        " segment segments abschnitt abschnitte stg st fasen"
    ),
    "program": (
        "program programme programm programma programa programs profile profiles sequence schedule verlauf ablauf"
        " settings sequenz recipe"
    ),
    "rest": (
        "rest resting rested standing stand ruhe ruhen ruhezeit repos reposo rasten standzeit carryover riposo rast"
        " rust rusttijd"
    ),
    "covered": (
        "covered cover lid abgedeckt abdeckung deckel couvert couvercle tapado tapa cubierto bedeckt zugedeckt"
        " bedekt coperto tampado"
    ),
    "hold": "hold held holding halten haltezeit maintien mantenido gehalten",
    "completed": (
        "completed complete completion finished done fertig abgeschlossen termine terminado completo vollstandig"
        " vollstaendig acheve beendet ganz full"
    ),
    "interrupted": (
        "interrupted interruption interruptions aborted abort abgebrochen abbruch unterbrochen unterbrechung"
        " interrompu interrumpido stopped incident incidents storung stoerung"
    ),
    "reason": "reason cause grund ursache raison causa why warum",
    "loss": (
        "loss losses verlust garverlust perte pertes perdida merma shrink shrinkage lost kochverlust evaporation"
        " schwund verlies perdita"
    ),
    "yield": "yield ausbeute rendement rendimiento",
    "browning": (
        "browning brown browned colour color couleur farbe braunung braeunung brunissement dorado coloracion"
        " coloration braune braeune brownness dorage doratura browness kleur bruining colore imbrunimento"
    ),
    "texture": (
        "texture textur textura biss konsistenz firmness bite consistance consistencia mouthfeel festigkeit fermete"
        " firmeza consistency textuur consistenza"
    ),
    "moisture": (
        "moisture moistness moist juiciness juicy saft saftigkeit saftig feuchte feuchtigkeit humedad jutosite jugosidad"
        " humidite wetness succulence moelleux juice humidity umidita vocht sappigheid succosita humidade"
    ),
    "reversed": "dryness trockenheit secheresse sequedad tenderness zartheit tendrete terneza softness toughness paleness",
    "other": (
        "liking flavour flavor taste geschmack gout sabor crispness crisp crispiness crunch crunchiness"
        " knusprigkeit croustillant crujiente aroma smell appearance aussehen saltiness salt aspect gesamteindruck"
        " impression gesamturteil acceptability greasiness"
    ),
    "taster": (
        "taster tasters panelist panelists panellist panel assessor assessors judge judges juror prufer pruefer"
        " verkoster tester degustateur degustateurs catador juez jury gouteur scorer evaluator evaluators panelista"
        " tasting proever assaggiatore provador"
    ),
    "score": (
        "score scores scoring rating ratings mark marks bewertung punkte punktzahl noten puntuacion jar eval"
        " evaluation evaluacion grade urteil sensory sensorik"
    ),
    "note": (
        "note notes comment comments remark remarks bemerkung bemerkungen kommentar kommentare anmerkung"
        " anmerkungen notiz notizen observation observations commentaire commentaires remarque remarques nota notas"
        " comentario comentarios observaciones beobachtung beobachtungen memo info saw opmerking opmerkingen"
        " osservazioni"
    ),
    "cook": "cook cooks koch kochversuch garversuch cuisson coccion garung",
    "person": (
        "koch kochin chef operator operateur operador bediener cuisinier cocinero name by person initials"
        " mitarbeiter staff logged durch von who kuerzel kurzel"
    ),
    "id": (
        "prova id no nr num number nummer numero ref code lfd index idx key run runs trial trials test tests testnr"
        " versuch versuche essai essais prueba pruebas ensayo experiment exp sample samples probe nro laufnummer"
        " attempt batchno"
    ),
    "purpose": "purpose zweck objet proposito kind type art aim ziel tipo",
    "lot": "lot charge batch lote chargennummer los lots chargennr",
    "load": "load loads beladung carga stuckzahl stueckzahl count qty quantity anzahl nombre cantidad menge pcs",
    "serial": "serial sn seriennummer serie seriennr",
    "dish": "dish dishes gericht plat plato rezept recette receta menu item speise",
    "oven": "oven ofen four horno gerat geraet machine maschine unit device equipment forno",
    "cavity": "cavity chamber garraum enceinte camara backraum cavidad",
    "set": "set setpoint preset",
    "thermometer": "thermometer thermometers thermometre termometro thermo",
    "check": (
        "check checked kalibriert calibrated calibration kontrolle gepruft geprueft verified controle comprobado prufung"
    ),
    "serving": "serving served serviert eaten tasted servido servi",
    "age": "age alter edad",
    "since": "since seit depuis desde idle gap pause last previous",
    "mean": (
        "mean means avg average averages mittel mittelwert moyenne promedio media durchschnitt schnitt mittelwerte"
        " sd stdev std stabw stddev deviation median sum summe somme suma variance range spread delta diff"
        " difference differenz rise gain increase zunahme gemiddelde"
    ),
    "extreme": "min max minimum maximum lowest highest hottest kleinster grosster",
    "photo": "photo photos foto fotos picture image bild pic img",
    "attribute": (
        "attribute variable parameter parametre parametro merkmal quantity measure measurement messgrosse groesse"
        " metric characteristic"
    ),
    "value": "value values wert werte valeur valeurs valor valores result results ergebnis resultat resultado",
    "unitword": "unit units einheit einheiten unite unites unidad unidades",
    "first": "first erste erster premier premiere primera primero i",
    "second_": "zweite zweiter deuxieme segunda segundo ii",
    "third": "third dritte dritter troisieme tercera tercero iii",
    "wanted": (
        "target targets goal goals limit limits spec specs required wanted soll sollwert ziel zielwert objetivo"
        " cible consigne consigna forecast predicted prediction expected prognose erwartet planned geplant prevu"
        " previsto vorgabe"
    ),
    "aside": (
        "aside surface crust skin room ambient kitchen plate tray pan wall exhaust fridge tare raum umgebung oberflache"
        " kruste croute superficie ambiente plato tablett blech schale raumtemperatur kuhlschrank frigo"
    ),
}
"""What words stand for. `second_` has no English 'second', which is a unit far more often."""

PHRASES: tuple[tuple[str, str], ...] = (
    ("micro ondes", "microwave"),
    ("micro onde", "microwave"),
    ("micro wave", "microwave"),
    ("mikro welle", "microwave"),
    ("mikro wellen", "microwave"),
    ("µ wave", "microwave"),
    ("hot air", "air"),
    ("air flow", "air"),
    ("air velocity", "air speed"),
    ("heiss luft", "air"),
    ("aire caliente", "air"),
    ("air chaud", "air"),
    ("a coeur", "core"),
    ("just about right", "score"),
    ("who cooked", "person"),
    ("cooked by", "person"),
    ("logged by", "person"),
    ("cook name", "person"),
    ("name of cook", "person"),
    ("cook s name", "person"),
    ("cooks name", "person"),
    ("cuisine par", "person"),
    ("gekocht von", "person"),
    ("name koch", "person"),
    ("cooked at", "date clock"),
    ("cooked on", "date"),
    ("date time", "date clock"),
    ("datum uhrzeit", "date clock"),
    ("time of day", "clock"),
    ("time of cook", "clock"),
    ("of time", "share"),
    ("of the time", "share"),
    ("of total time", "share"),
    ("part of time", "share"),
    ("time share", "share"),
    ("share of time", "share"),
    ("temps de cuisson", "time total"),
    ("temps total", "time total"),
    ("temps repos", "rest time"),
    ("temps de repos", "rest time"),
    ("mass in", "mass start"),
    ("mass out", "mass end"),
    ("weight in", "mass start"),
    ("weight out", "mass end"),
    ("temp in", "temp start"),
    ("temp out", "temp end"),
    ("t core", "temp core"),
    ("t start", "temp start"),
    ("t air", "temp air"),
    ("t oven", "temp oven"),
    ("t luft", "temp air"),
    ("t kern", "temp core"),
    ("t ofen", "temp oven"),
    ("t coeur", "temp core"),
    ("t four", "temp oven"),
    ("t depart", "temp start"),
    ("t in", "temp start"),
    ("what i saw", "note"),
    ("made by", "person"),
    ("power cut", "interrupted"),
    ("power failure", "interrupted"),
    ("before rest", "aside"),
    ("before resting", "aside"),
    ("before standing", "aside"),
    ("vor ruhe", "aside"),
    ("vor ruhezeit", "aside"),
    ("avant repos", "aside"),
    ("antes reposo", "aside"),
    ("door opened", "interrupted"),
    ("door open", "interrupted"),
    ("cut short", "interrupted"),
    ("s n", "serial"),
)
"""Words that mean something else together; tried longest first."""

FILLERS = _words(
    "a an the of de la le les el los las del der die das des du d l to at on for per und and et y e im am zu zur mit"
    " with par por pro is was value reading read sur mean_ your typed measured gemessen mesure medido [ ] approx ca"
    " no_ auf in_ al au aux ofthe je each every"
)
"""Words that say nothing about the meaning of a column."""

MISSING = _words(
    "- -- --- ---- – — −− n/a na n.a. n/a. nan none null nil ? ?? ??? . .. ... … k.a. k.a k/a o.a. s/d s.d. nd n.d."
    " n/d nc n.c. n/m nm missing fehlt x? tbd #n/a #na #div/0! #ref! #value! #num! #name? #null! err error ol o.l."
    " overload open nr n.r. ___ __ _ / // keine aucun ninguno notmeasured gap blank leer vide vacio forgot vergessen"
)
"""Cells that say a value is not there (blanks within removed, lower case)."""

YES = _words(
    "yes y ja j oui o si s true t 1 x ✓ ✔ ☑ wahr vrai verdadero covered lid abgedeckt couvert tapado cubierto ok on done"
)
NO = _words("no n nein non false f 0 ✗ ✘ ☐ falsch faux falso uncovered open offen ouvert destapado off abierto not")
"""Cells of yes/no columns."""

TOTALS = _words(
    "total totals sum sums mean means average averages avg ave median min max minimum maximum sd stdev std stddev"
    " stabw summe mittelwert mittel durchschnitt schnitt gesamt somme moyenne moy promedio media suma ø ⌀ ∑ σ x̄ range"
    " spread variance target targets soll sollwert ziel limit limits spec goal objetivo cible grenzwert lowest highest"
    " count anzahl cv totale best subtotal zwischensumme"
)
"""First words of rows that sum up others or state what is wanted."""
