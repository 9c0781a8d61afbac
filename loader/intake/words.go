package intake

import (
	"strings"

	"matewell/loader/partslist"
)

// kindWords are the words of lists for kinds of part, English, German and
// French, as common practice has them. A word of two meanings stands with each.
var kindWords = [...]struct{ kind, words string }{
	{"clutch-master", "clutch master cylinder|kupplungsgeber"},
	{"clutch-slave", "clutch slave cylinder|kupplungsnehmer"},
	{"master-cylinder", "master cylinder|pompa freno|bomba de freno|brake master " +
		"cylinder|hauptbremszylinder|bremszylinder|handbremszylinder|bremspumpe|maître cylindre"},
	{"brake-lever", "brake lever|leva freno|maneta de freno|bremshebel|levier de frein"},
	{"caliper", "caliper|pinza|pinza freno|pinza de freno|brake caliper|calliper|bremssattel|bremszange|étrier|étrier " +
		"de frein"},
	{"brake-pads", "brake pads|pastiglie|pastiglie freno|pastillas|pastillas de freno|pads|pad " +
		"set|bremsbeläge|bremsbelag|bremsklötze|plaquettes|plaquettes de frein"},
	{"brake-shoes", "brake shoes|shoes|bremsbacken|mâchoires|mâchoires de frein"},
	{"brake-disc", "brake disc|disco freno|disco de freno|disc|brake rotor|bremsscheibe|disque|disque de frein"},
	{"brake-hose", "brake hose|tubo freno|latiguillo de freno|brake line|bremsschlauch|bremsleitung|stahlflex|flexible " +
		"de frein|durit de frein"},
	{"hose-splitter", "hose splitter|brake line splitter|bremsverteiler|verteilerstück|répartiteur"},
	{"brake-switch", "brake switch|brake light switch|stop switch|bremslichtschalter|contacteur de stop|contacteur de " +
		"frein"},
	{"brake-pedal", "brake pedal|bremspedal|fußbremshebel|pédale de frein"},
	{"brake-rod", "brake rod|bremsgestänge|bremsstange|tringle de frein"},
	{"reservoir", "reservoir|fluid reservoir|bremsflüssigkeitsbehälter|ausgleichsbehälter|bocal"},
	{"bleed-screw", "bleed screw|bleed nipple|bleeder|entlüfterschraube|entlüftungsschraube|vis de purge|purgeur"},
	{"caliper-bracket", "caliper bracket|caliper adapter|bremssattelhalter|sattelhalter|support d'étrier"},
	{"banjo-bolt", "banjo bolt|hohlschraube|vis banjo|vis creuse"},
	{"seal-washer", "sealing washer|copper washer|crush washer|banjo washer|dichtring|kupferring|rondelle " +
		"d'étanchéité|rondelle " +
		"cuivre"},
	{"fork-leg", "fork leg|gabelholm|bras de fourche"}, {"fork-tube", "fork tube|stanchion|standrohr|tube de fourche"},
	{"fork-seal", "fork seal|fork oil seal|gabelsimmerring|gabeldichtring|joint spi de fourche"}, {"fork-dust-seal",
		"dust cap|dust seal|fork dust seal|staubkappe|cache poussière"},
	{"fork-spring", "fork spring|gabelfeder|ressort de fourche"}, {"fork-cap", "fork cap|fork top " +
		"bolt|gabelverschluss|gabelstopfen|bouchon de fourche"},
	{"yoke-lower", "lower yoke|bottom yoke|lower triple clamp|untere gabelbrücke|té inférieur"}, {"yoke-upper",
		"upper yoke|top yoke|upper triple clamp|obere gabelbrücke|té supérieur"},
	{"bearing", "bearing|wheel bearing|steering bearing|head bearing|steering head " +
		"bearing|radlager|lenkkopflager|lager|roulement|roulement " +
		"de roue|roulement de direction"},
	{"handlebar", "handlebar|handlebars|bars|lenker|guidon"}, {"clip-on", "clip on|clip " +
		"ons|stummel|lenkerstummel|bracelet|demi guidon"},
	{"grip", "grip|grips|handlebar grip|lenkergriff|griff|griffe|poignée|poignées"}, {"bar-weight", "bar end|bar " +
		"weight|lenkerendgewicht|embout de guidon"},
	{"switchgear", "switchgear|switch cluster|lenkerschalter|schaltereinheit|commodo"}, {"throttle-cable",
		"throttle cable|gaszug|câble d'accélérateur|câble de gaz"},
	{"choke-cable", "choke cable|chokezug|câble de starter"}, {"clutch-cable", "clutch cable|kupplungszug|câble " +
		"d'embrayage"},
	{"clutch-lever", "clutch lever|kupplungshebel|levier d'embrayage"}, {"clutch-plates",
		"clutch plates|kupplungslamellen|lamellen|disques d'embrayage"},
	{"clutch-springs", "clutch springs|kupplungsfedern|ressorts d'embrayage"}, {"clutch-cover",
		"clutch cover|kupplungsdeckel|carter d'embrayage"},
	{"axle", "axle|front axle|rear axle|wheel spindle|vorderachse|hinterachse|steckachse|achse|axe|axe avant|axe arrière"},
	{"front-wheel", "front wheel|vorderrad|roue avant"}, {"rear-wheel", "rear wheel|hinterrad|roue arrière"},
	{"wheel-hub", "wheel hub|front hub|rear hub|radnabe|vorderradnabe|hinterradnabe|nabe|moyeu|moyeu avant|moyeu " +
		"arrière"},
	{"rim-tape", "rim tape|rim band|felgenband|fond de jante"}, {"clutch-hub", "clutch hub|clutch centre|kupplungsnabe"},
	{"wheel-rim", "wheel rim|front rim|rear rim|rim|felge|vorderradfelge|hinterradfelge|jante|jante avant|jante arrière"},
	{"spokes", "spoke set|spokes|speichensatz|speichen|jeu de rayons|rayons"}, {"tyre",
		"tyre|pneumatico|neumático|tire|reifen|pneu"},
	{"inner-tube", "inner tube|tyre tube|schlauch|chambre à air"}, {"spacer", "spacer|wheel " +
		"spacer|distanzhülse|distanzbuchse|entretoise"},
	{"wheel-seal", "wheel seal|wheel oil seal|radsimmerring|joint spi de roue"}, {"valve", "tyre valve|reifenventil"},
	{"chain", "chain|catena|cadena|drive chain|kette|antriebskette|chaîne"}, {"chain-link", "connecting link|split " +
		"link|kettenschloss|attache rapide"},
	{"front-sprocket", "front sprocket|gearbox sprocket|drive sprocket|ritzel|kettenritzel|pignon"}, {"rear-sprocket",
		"rear sprocket|rear wheel sprocket|driven sprocket|kettenrad|couronne"},
	{"drive-belt", "drive belt|final drive belt|toothed belt|zahnriemen|antriebsriemen|courroie de transmission"},
	{"front-pulley", "front pulley|gearbox pulley|transmission pulley"}, {"rear-pulley", "rear pulley|rear wheel " +
		"pulley|driven pulley"},
	{"sprocket-carrier", "sprocket carrier|kettenradträger|porte couronne"}, {"chain-guard",
		"chain guard|kettenschutz|garde chaîne|carter de chaîne"},
	{"swingarm", "swingarm|swinging arm|schwinge|bras oscillant"}, {"bush",
		"swingarm bush|bush|schwingenbuchse|buchse|bague|bague de bras oscillant"},
	{"shock", "shock|rear shock|shock absorber|stoßdämpfer|federbein|amortisseur"},
	{"piston", "piston|kolben"}, {"piston-rings", "piston rings|rings|kolbenringe|segments"}, {"kit",
		"kit"},
	{"spark-plug", "spark plug|zündkerze|bougie"}, {"plug-cap", "plug cap|kerzenstecker|antiparasite"}, {"oil-filter",
		"oil filter|ölfilter|filtre à huile"},
	{"drain-plug", "drain plug|ölablassschraube|bouchon de vidange"}, {"kick-starter",
		"kick start lever|kickstarter|kick"},
	{"carburettors", "carburettor|carburettors|carburetor|carb|carbs|vergaser|carburateur"}, {"jet", "main jet|pilot " +
		"jet|hauptdüse|gicleur principal|gicleur"},
	{"manifold", "manifold|inlet rubber|inlet manifold|ansaugstutzen|pipe d'admission"}, {"airbox",
		"airbox|luftfilterkasten|boîte à air"}, {"air-filter", "air filter|luftfilter|filtre à air"},
	{"exhaust-header", "exhaust header|header|downpipe|krümmer|collecteur|tube d'échappement"}, {"silencer",
		"silencer|muffler|endschalldämpfer|auspuff|silencieux"},
	{"exhaust-gasket", "exhaust gasket|krümmerdichtung|joint d'échappement"}, {"radiator", "radiator|kühler|radiateur"},
	{"thermostat", "thermostat"},
	{"fuel-tank", "fuel tank|tank|petrol tank|kraftstofftank|réservoir"}, {"fuel-tap", "fuel tap|petrol " +
		"tap|petcock|benzinhahn|robinet d'essence"}, {"fuel-cap", "fuel cap|tankdeckel|bouchon de réservoir"},
	{"panel", "side panel|panel|seitendeckel|cache latéral"}, {"front-mudguard", "front mudguard|front " +
		"fender|schutzblech vorn|vorderradkotflügel|garde boue avant"},
	{"screen", "screen|windscreen|windschild|verkleidungsscheibe|bulle"}, {"fairing-stay", "fairing stay|fairing " +
		"bracket|verkleidungshalter|support de carénage"},
	{"seat", "seat|sitzbank|selle"}, {"grab-rail", "grab rail|haltegriff|poignée passager"}, {"footrest",
		"footrest|footpeg|fußraste|repose pied"},
	{"gear-pedal", "gear pedal|gear lever|schalthebel|sélecteur"}, {"side-stand", "side stand|seitenständer|béquille " +
		"latérale"}, {"centre-stand", "centre stand|center stand|hauptständer|béquille centrale"},
	{"headlamp", "headlamp|headlight|scheinwerfer|phare"}, {"bulb",
		"headlamp bulb|bulb|scheinwerferlampe|glühlampe|ampoule|ampoule de phare"}, {"indicator", "indicator|turn " +
		"signal|blinker|clignotant"},
	{"tail-lamp", "tail lamp|tail light|rücklicht|feu arrière"}, {"horn", "horn|hupe|klaxon"}, {"battery",
		"battery|batterie"}, {"wiring-loom", "wiring loom|wiring harness|loom|kabelbaum|faisceau"},
	{"regulator", "regulator|regulator rectifier|rectifier|regler|gleichrichter|régulateur"}, {"bolt", "bolt"}, {"nut",
		"nut"}, {"washer", "washer"}, {"stud", "stud"}, {"circlip", "circlip"},
	{"split-pin", "split pin|cotter pin"}, {"gasket", "gasket"}, {"o-ring", "o-ring"}, {"spring", "spring"},
	{"grommet", "grommet"}, {"collar", "collar"}, {"decal", "decal"},
	{"mirror", "mirror|spiegel|rétroviseur"}, {"clocks", "speedometer|clocks|instruments|tacho|tachometer|compteur"},
}

// unsorted is the kind of a part of which no word tells what it is.
const unsorted = "unsorted"

// ways are the words for sides, in the trade's own and as lists have them.
var ways = [...]struct{ way, words string }{
	{"left", "left|l h|lh|links|linke|linker|linkes|gauche|g|sinistro|sinistra|sx|izquierdo|izquierda"}, {"right",
		"right|r h|rh|rechts|rechte|rechter|rechtes|droite|droit|destro|destra|dx|derecho|derecha"},
	{"front", "front|vorn|vorne|vorder|vorderer|vordere|vorderes|avant|anteriore|delantero|delantera"}, {"rear",
		"rear|back|hinten|hinter|hinterer|hintere|hinteres|arriere|posteriore|trasero|trasera"},
	{"upper", "upper|top|oben|oberer|obere|superieur|haut|superiore|superior"}, {"lower",
		"lower|bottom|unten|unterer|untere|inferieur|bas|inferiore|inferior"},
	{"inner", "inner|inside|innen|interieur"}, {"outer", "outer|outside|aussen|exterieur"},
}

// waysIn are the sides that a text names.
func waysIn(text string) map[string]bool {
	folded := partslist.Fold(text)
	found := map[string]bool{}
	for _, w := range ways {
		for _, word := range strings.Split(w.words, "|") {
			if partslist.HasWord(folded, word) {
				found[w.way] = true
			}
		}
	}
	for start, way := range map[string]string{"vorder": "front", "hinter": "rear"} {
		for _, word := range strings.Fields(folded) {
			if strings.HasPrefix(word, start) {
				found[way] = true
			}
		}
	}
	return found
}
