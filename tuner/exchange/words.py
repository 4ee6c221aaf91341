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
        " kerntemperatuur pt100 innentemperatur innerste hart kerntemperature intern inside coeurtemp nucleotemp"
        " middle midden mezzo medio milieu kerne kjerne karna kernetemp karntemp kjernetemp"
    ),
    "place": (
        "place places position positions stelle stellen punto puntos point points spot spots lugar emplacement"
        " location ort meetpunt meetpunten sitio zona zones zone left right side edge tip top bottom front links"
        " rechts rand seite spitze oben unten gauche droite bord cote haut bas izquierda derecha borde lado sinistra"
        " destra bordo"
    ),
    "temp": (
        "temp temps temperature temperatures temperatur temperaturen temperatura temperaturas tempe tmp temper"
        " temperatuur lampotila"
    ),
    "start": (
        "start starting initial initially initiale inicial begin beginning beginn before raw vor vorher anfang"
        " anfangs depart debut inicio in ein roh cru crue crudo cruda uncooked precook pre entry entree entrada avant"
        " antes incoming eingang input inlet uncook iniz iniziale voor begintemperatuur inizio starttemp begintemp"
        " ingaand voorheen rauw rauwe prima crudi iniziali fresh ante preoven precooking preparation gekoeld chilled"
        " av fore ennen innan"
    ),
    "end": (
        "out end ending final after post nach nachher ende cooked cuit cuite cocido cocida finale fin apres despues"
        " salida sortie aus gegart gar finished exit output outlet postcook finito na eind fine depois gaar gegaarde"
        " cotto cotta cotti dopo uitgaand fertiggewicht uscita cuits ap aftercook afterwards postoven saliente"
        " eindgewicht finish cozido cozida done efter etter jalkeen"
    ),
    "mass": (
        "mass weight weights wt wgt gewicht gewichte gew masse poids peso pesos masa weighed waage gramm gramme"
        " grammes gramos portionsgewicht weighing massa gewichten pds gewogen pesata gwt gramaje grammage pesatura"
        " vaegt vagt vekt vikt paino"
    ),
    "portion": (
        "portion portions porcion porciones ration piece pieces stuck stueck food product produkt produit producto"
        " gargut meat fillet filet slice patty portie stuk porzione pezzo porcao portionen"
    ),
    "air": (
        "air fan luft umluft aire ventilador ventilation ventilateur vent blower geblase geblaese lufter luefter"
        " airflow heissluft heiszluft convection viento flujo konvektion ventola aria lueftung luftung airspeed lucht"
        " ventilatie ventilator ventilazione ventil turbine vento heteluchtvent hetelucht geblaesestufe fans aircirc"
        " circulation umwalzung umwaelzung turbo ventilo ar umluftstufe blowers flakt vifte blaser"
    ),
    "speed": (
        "speed speeds vel velocity geschwindigkeit geschw vitesse velocidad drehzahl tempo snelheid velocita"
        " toerental velocidade"
    ),
    "microwave": (
        "mw microwave microwaves mikrowelle mikrowellen mikro microonda microondas mo magnetron uw micro wave mwave"
        " mwp microonde micros mag magnetronvermogen microondes microgolf mikrow mic mwpower mikrobolge mikrobolger"
        " mikrovag mikrovagor"
    ),
    "power": "power leistung puissance potencia potenza powerlevel vermogen",
    "level": "level levels niveau nivel setting stellung grad intensity livello niveaux",
    "share": (
        "share shares split splits anteil anteile proportion fraction fractions ratio part parts partie cuota"
        " porcentaje teil zeitanteil zeitanteile percentage portionoftime repartition reparto parte quota deel aandeel"
        " zeitant percentuale porcion fetta sh parcela andel osuus"
    ),
    "time": (
        "duur time times duration durations dauer zeit zeiten garzeit duree durees duracion tiempo tiempos cooktime"
        " laufzeit runtime length kochzeit backzeit backdauer gardauer timer temps tijd durata tempo tijden tijdsduur kooktijd"
        " bereidingstijd tps tiempototal garzeiten gaartijd baktijd kochdauer duracao tempos tid aika tidsrum"
    ),
    "lasts": (
        "duration durations dauer duree durees duracion laufzeit runtime length gardauer kochzeit backzeit garzeit"
        " cooktime durata duur duracao"
    ),
    "seconds": (
        "sec secs second seconds sek sekunde sekunden minute minutes minuten secondes segundos minutos mins secondi"
        " seconden minuti minuut"
    ),
    "clock": "clock uhrzeit hora heure oclock uhr ora tijdstip klok uhrz",
    "total": "total overall gesamt totale entire whole totaal complessivo insgesamt tot",
    "date": "zeitpunkt date datum fecha day tag jour dia timestamp when datetime jours datestamp data giorno dagen dag datumtijd dato",
    "until": (
        "until till bis jusque hasta upto switch switchover cumulative cum change changeover kumuliert umschaltung"
        " endet ends fino"
    ),
    "stage": (
        "stage stages step steps phase phases stufe stufen etape etapes etapa etapas schritt schritte fase fases"
        " segment segments abschnitt abschnitte stg st fasen stap stappen passo passi paso pasos tappa tappe fasi"
        " stadio palier paliers blast burst block blocks cycle cycles tramo tramos sektion gang trin steg trinn vaihe"
    ),
    "program": (
        "program programme programm programma programa programs profile profiles sequence schedule verlauf ablauf"
        " settings sequenz recipe programmi einstellung einstellungen parametri receptuur stappenplan ajustes reglages"
    ),
    "rest": (
        "rest resting rested standing stand ruhe ruhen ruhezeit repos reposo rasten standzeit carryover riposo rast"
        " rust rusttijd rusten riposare reposado repose ruhephase nachruhe repouso sit sitting dwell settle abstehen"
        " abstehzeit hvile vila hvil"
    ),
    "covered": (
        "covered cover lid abgedeckt abdeckung deckel couvert couvercle tapado tapa cubierto bedeckt zugedeckt bedekt"
        " coperto tampado toegedekt tented tent foil folie alufolie aluminium alu stagnola papel foiled wrapped"
        " afgedekt gedekt lidded lids lidon dekking coperchio copertura afgesloten deksel cloche coberto tildaekket"
        " tackt tildekket"
    ),
    "hold": "hold held holding halten haltezeit maintien mantenido gehalten tenuta mantenimento",
    "completed": (
        "completed complete completion finished done fertig abgeschlossen termine terminado completo vollstandig"
        " vollstaendig acheve beendet ganz full afgerond voltooid klaar completato concluso completado durchgelaufen"
        " status statut estado stato outcome"
    ),
    "interrupted": (
        "interrupted interruption interruptions aborted abort abgebrochen abbruch unterbrochen unterbrechung"
        " interrompu interrumpido stopped incident incidents storung stoerung onderbroken interrotto interruzione"
        " storing"
    ),
    "reason": "reason cause grund ursache raison causa why warum motivo reden motif",
    "loss": (
        "loss losses verlust garverlust perte pertes perdida merma shrink shrinkage lost kochverlust evaporation"
        " schwund verlies perdita gewichtsverlust kookverlies calo perdite"
    ),
    "yield": "yield ausbeute rendement rendimiento resa opbrengst rendimento",
    "browning": (
        "browning farb brown browned colour color couleur farbe braunung braeunung brunissement dorado coloracion"
        " coloration braune braeune brownness dorage doratura browness kleur bruining colore imbrunimento kleuring"
        " bruin brunito brunitura dorato bronceado coloratie colours colors gratinage gratine browing braunungsgrad"
        " crustcolour cor dourado douramento farve farg farge bruning"
    ),
    "texture": (
        "texture textur textura biss konsistenz firmness bite consistance consistencia mouthfeel festigkeit fermete"
        " firmeza consistency textuur consistenza beet bijt chew chewiness mordida masticabilita durezza firm firmezza"
        " soliditeit stevigheid fermezza morso mache tenue mordant konsistens tekstur"
    ),
    "moisture": (
        "moisture moistness moist juiciness juicy saft saftigkeit saftig feuchte feuchtigkeit humedad jutosite"
        " jugosidad humidite wetness succulence moelleux juice humidity umidita vocht sappigheid succosita humidade"
        " jus juices succo sappig smeuigheid saftigk jugoso jutosita hydration succulenza suculencia umidade suculento"
        " saftighed saftighet"
    ),
    "reversed": (
        "reversed dryness trockenheit secheresse sequedad tenderness zartheit tendrete terneza softness toughness"
        " paleness morbidezza zachtheid malsheid mollesse blandura weichheit droogte secchezza"
    ),
    "other": (
        "liking flavour flavor taste geschmack gout sabor crispness crisp crispiness crunch crunchiness knusprigkeit"
        " croustillant croustillance croquant crujiente aroma smell appearance aussehen saltiness salt aspect"
        " gesamteindruck impression gesamturteil acceptability greasiness sapore gusto smaak croccantezza"
        " knapperigheid overall arome odeur geur odore aspetto salatura zout sale"
    ),
    "taster": (
        "taster tasters panelist panelists panellist panel assessor assessors judge judges juror prufer pruefer"
        " verkoster tester degustateur degustateurs catador juez jury gouteur scorer evaluator evaluators panelista"
        " tasting proever assaggiatore provador degustatore degustatori cata proeverij assaggio gouteurs verkosterin"
        " panellid proefpersoon evaluatore provadores provadora tastedby"
    ),
    "score": (
        "score scores scoring rating ratings mark marks bewertung punkte punktzahl noten puntuacion jar eval"
        " evaluation evaluacion grade urteil sensory sensorik cijfer voto voti punteggio puntaje beoordeling"
    ),
    "note": (
        "note notes comment comments remark remarks bemerkung bemerkungen kommentar kommentare anmerkung anmerkungen"
        " notiz notizen observation observations commentaire commentaires remarque remarques nota notas comentario"
        " comentarios observaciones beobachtung beobachtungen memo info saw opmerking opmerkingen osservazioni"
        " annotazioni annotazione notitie rem bem bemerk obs commenti commento observacoes bemaerkning anmarkning"
        " merknad"
    ),
    "cook": "cook cooks koch kochversuch garversuch cuisson coccion garung gaarproef garen",
    "person": (
        "koch kochin chef baecker backer baker boulanger panadero fornaio bakker operator operateur operador bediener cuisinier cocinero name by person initials mitarbeiter"
        " staff logged durch von who kuerzel kurzel cuoco kok cocinera cuisiniere signed verantwortlich responsable"
        " chefkok operatore initialled cozinheiro kock kokk"
    ),
    "id": (
        "prova id no nr num number nummer numero ref code lfd index idx key run runs trial trials test tests testnr"
        " versuch versuche essai essais prueba pruebas ensayo experiment exp sample samples probe nro laufnummer"
        " attempt batchno proef proeven proefnr volgnummer prove lfdnr codice codigo ensaio ensaios teste testes"
        " attempts forsog forsok forsoknr probenummer koe laufendenr"
    ),
    "purpose": "purpose zweck objet proposito kind type art aim ziel tipo doel scopo finalidade",
    "lot": "lot charge batch lote chargennummer los lots chargennr partij partita lotto chargen",
    "load": (
        "load loads beladung carga stuckzahl stueckzahl count qty quantity anzahl nombre cantidad menge pcs aantal"
        " pezzi stuks porties"
    ),
    "serial": "serial sn seriennummer serie seriennr",
    "dish": "dish dishes gericht plat plato rezept recette receta menu item speise gerecht piatto prato artikel",
    "oven": (
        "oven ofen four horno gerat geraet machine maschine unit device equipment forno kombidampfer ovn ugn ovntemp ugnstemp"
    ),
    "cavity": "cavity chamber garraum enceinte camara backraum cavidad cavita ovenruimte kammer",
    "set": "set setpoint preset ingesteld impostato impostata",
    "thermometer": "thermometer thermometers thermometre termometro thermo",
    "check": (
        "check checked kalibriert calibrated calibration kontrolle gepruft geprueft verified controle comprobado"
        " prufung gecontroleerd controllo controllato gekalibreerd verificado kalibrierung"
    ),
    "serving": "serving served serviert eaten tasted servido servi geserveerd servito",
    "age": "age alter edad",
    "since": "since seit depuis desde idle gap pause last previous sinds",
    "actual": (
        "actual actually keyed entered really tatsachlich wirklich reel reellement effettivo effettivamente werkelijk gefahren"
    ),
    "mean": (
        "mean means avg average averages mittel mittelwert moyenne promedio media durchschnitt schnitt mittelwerte sd"
        " stdev std stabw stddev deviation median sum summe somme suma variance range spread delta diff difference"
        " differenz rise gain increase zunahme gemiddelde gemiddeld mediana verschil differenza"
    ),
    "extreme": (
        "min max minimum maximum lowest highest hottest kleinster grosster laagste hoogste minimo massimo minima"
        " massima kalteste heissester"
    ),
    "photo": "photo photos foto fotos picture image bild pic img",
    "attribute": (
        "attribute variable parameter parametre parametro merkmal quantity measure measurement messgrosse groesse"
        " metric characteristic"
    ),
    "value": "value values wert werte valeur valeurs valor valores result results ergebnis resultat resultado",
    "unitword": "unit units einheit einheiten unite unites unidad unidades",
    "first": "first erste erster premier premiere primera primero i",
    "second_": "zweite zweiter deuxieme segunda segundo seconda secondo tweede ii",
    "third": "third terza terzo derde dritte dritter troisieme tercera tercero iii",
    "wanted": (
        "target targets goal goals limit limits spec specs required wanted soll sollwert ziel zielwert objetivo cible"
        " consigne consigna forecast predicted prediction expected prognose erwartet planned geplant prevu previsto"
        " vorgabe doelwaarde streefwaarde obiettivo desired zieltemp meta gewenst objectif ordered"
    ),
    "aside": (
        "aside surface crust skin room ambient kitchen plate tray pan wall exhaust fridge tare raum umgebung"
        " oberflache kruste croute superficie ambiente plato tablett blech schale raumtemperatur kuhlschrank frigo"
        " cucina keuken kuche cuisine cocina oppervlak dienblad vassoio teglia plaat weather outside aussen storage"
        " pot casserole belt sauce cooler freezer chiller container glaze marinade"
    ),
}
"""What words stand for. `second_` has no English 'second', which is a unit far more often."""

FILLERS = _words(
    "a an the of de la le les el los las del der die das des du d l to at on for per und and et y e im am zu zur mit"
    " with par por pro is was value reading read sur mean_ your typed measured gemessen mesure medido [ ] approx ca"
    " no_ auf in_ al au aux ofthe je each every"
)
"""Words that say nothing about the meaning of a column."""
