package intake

import (
	"strings"
	"sync"
)

// spellings are words in a row that are one.
var spellings = [...][2]string{
	{"swing arm", "swingarm"}, {"swinging arm", "swingarm"}, {"o ring", "oring"}, {"o ringe", "oring"},
	{"o rings", "oring"}, {"air box", "airbox"}, {"head light", "headlight"}, {"head lamp", "headlamp"},
	{"l h", "left"}, {"r h", "right"}, {"foot rest", "footrest"}, {"handle bar", "handlebar"}, {"side stand", "sidestand"},
	{"side stands", "sidestand"},
}

// linkWords stand between what a thing is and what it belongs to.
const linkWords = "for of from to with at on fur von zum zur mit am an de des du d l pour avec au aux per di del " +
	"della delle dei da con para por en a"

// links and neutral are looked up word by word.
var links = set(strings.Fields(linkWords))

// neutral are words that say nothing of what a thing is: its state, its make, its
// colour, how many. Common practice, no source.
var neutral = set(strings.Fields("the and incl including without und ohne inkl der die das et sans les une e y sin " +
	"con new used old nos genuine original oem pattern repro reproduction aftermarket refurbished reconditioned " +
	"good worn spare spares nice rusty neu neue neuer neues gebraucht alt alte orig ersatz neuf neuve occasion " +
	"origine nuovo nuova usato nuevo nueva usado assy assembly complete cpl compl komplett complet complete " +
	"completo set pair pair paar satz paire jeu coppia par each piece stuck stk pcs off unit motorcycle bike " +
	"motorrad moto part teil black white red blue green yellow silver grey gray gold chrome chromed plated polished " +
	"painted steel stainless alloy aluminium aluminum braided schwarz weiss rot blau grun gelb silber chrom " +
	"verchromt poliert edelstahl stahl alu noir noire blanc rouge bleu vert chrome acier inox nero bianco rosso " +
	"cromato acciaio negro blanco rojo cromado acero standard std small large big long short klein gross kurz lang"))

// pieceWords are the words for what is but a piece of something, each with what
// it is called in lists. A part whose name ends in one of them is never the
// whole that it is a piece of. Common practice, no source.
var pieceWords = [...]struct{ english, words string }{
	{"bolt", "screw schraube schrauben bolzen vis boulon vite bullone tornillo perno"},
	{"nut", "mutter muttern ecrou dado dadi tuerca"},
	{"washer", "scheibe unterlegscheibe unterlegscheiben dichtscheibe rondelle rondella rondelle arandela"},
	{"seal", "simmerring wellendichtring paraolio reten"}, {"gasket", "dichtung dichtungen joint guarnizione junta"},
	{"oring", ""}, {"spring", "feder federn ressort molla muelle resorte"},
	{"pin", "stift splint goupille spina pasador"}, {"clip", "klammer klemme agrafe fermaglio"},
	{"cap", "kappe verschluss bouchon tappo tapon"}, {"cover", "deckel abdeckung couvercle coperchio tapa"},
	{"rubber", "gummi caoutchouc gomma goma"}, {"boot", "manschette soufflet cuffia fuelle"},
	{"bearing", "lager roulement cuscinetto rodamiento"}, {"bush", "bushing buchse bague boccola casquillo"},
	{"collar", "bund collier collare"}, {"bracket", "halter halterung support supporto soporte staffa"},
	{"guard", "schutz protection protezione protector"}, {"switch", "schalter contacteur interruttore interruptor"},
	{"kit", "reparatursatz rep repsatz dichtsatz dichtungssatz pochette"}, {"piston", "kolben pistone"},
	{"stud", "stehbolzen goujon prigioniero esparrago"}, {"grommet", "tulle gommino"},
	{"circlip", "sicherungsring seegerring circlips seeger"}, {"sleeve", "hulse manchon bussola manguito"},
	{"spacer", "distanzhulse entretoise distanziale separador"}, {"badge", "emblem embleme stemma emblema"},
	{"lens", "glas verre vetro cristal"}, {"nipple", "nippel raccord"}, {"filter", "filtre filtro"}, {"ring",
		"anello anillo"},
	{"stay", "strebe"}, {"pivot", ""}, {"rim", ""}, {"glass", ""}, {"decal", "sticker aufkleber autocollant adesivo"},
	{"tube", ""}, {"clamp", "schelle fascetta abrazadera"}, {"plug", ""}, {"shim", ""}, {"holder", ""},
	{"strap", ""}, {"gaiter", ""}, {"roller", ""}, {"adjuster", ""}, {"cup", ""}, {"lock", ""}, {"wire", ""}, {"hook", ""},
}

// otherWords are further words of the trade in other languages.
var otherWords = [...]struct{ english, words string }{
	{"wheel", "rad roue ruota rueda"}, {"brake", "bremse frein freno"}, {"fork", "gabel fourche forcella horquilla"},
	{"clutch", "kupplung embrayage frizione embrague"}, {"engine", "motor moteur motore"},
	{"chain", "kette chaine catena cadena"}, {"tyre", "tire reifen pneu pneumatico neumatico"}, {"lamp", "light"},
	{"headlamp", "headlight scheinwerfer phare faro"}, {"caliper", "calliper"}, {"speedo", "speedometer"},
	{"carburettor", "carb carburetor vergaser carburateur carburatore carburador"}, {"tank", "reservoir serbatoio"},
	{"mudguard", "fender"}, {"wheel bearing", "radlager"}, {"steering bearing", "lenkkopflager"},
	{"brake caliper", "bremssattel bremszange"}, {"brake disc", "bremsscheibe"}, {"brake hose", "bremsschlauch " +
		"bremsleitung"},
	{"brake lever", "bremshebel handbremshebel"}, {"brake master cylinder", "hauptbremszylinder handbremszylinder " +
		"bremspumpe"},
	{"wheel seal", "radsimmerring"}, {"fork seal", "gabelsimmerring gabeldichtring"}, {"fork spring", "gabelfeder"},
	{"tank cap", "tankdeckel"}, {"brake lamp switch", "bremslichtschalter"}, {"clutch lever", "kupplungshebel"},
	{"axle", "achse axe spindle asse eje"}, {"lever", "hebel levier leva maneta palanca"},
	{"cable", "zug bowdenzug cavo"}, {"disc", "disk disque disco"}, {"hose", "flexible durit latiguillo"},
	{"handlebar", "bar lenker guidon manubrio manillar"}, {"pad", "belag belage plaquette pastiglia pastiglie pastilla"},
	{"grip", "griff griffe poignee manopola puno"}, {"mirror", "spiegel retroviseur specchio espejo"},
	{"sidestand", "seitenstander"}, {"indicator", "blinker clignotant freccia intermitente"},
	{"seat", "sitzbank selle sella asiento"}, {"footrest", "footpeg fussraste"}, {"shock", "stossdampfer amortisseur"},
	{"mudguard", "schutzblech kotflugel"}, {"fuel", "petrol gas benzin kraftstoff essence benzina gasolina"},
}

// english is the English of words of other languages, without their accents,
// and of the words that mean the same.
var english = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for _, list := range [...][]struct{ english, words string }{pieceWords[:], otherWords[:]} {
		for _, w := range list {
			for _, word := range strings.Fields(w.words) {
				all[word] = w.english
			}
		}
	}
	return all
})

// pieces are the words of pieces in English.
var pieces = sync.OnceValue(func() map[string]bool {
	all := map[string]bool{}
	for _, w := range pieceWords {
		all[w.english] = true
	}
	return all
})

// headFirst are words of languages in which a name begins with what the thing
// is.
var headFirst = set(strings.Fields("maitre levier etrier plaquettes plaquette machoires machoire disque disques " +
	"flexible durit repartiteur contacteur pedale tringle bocal vis purgeur rondelle rondelles bras cache ressort " +
	"ressorts bouchon te roulement roulements guidon demi poignee poignees embout commodo carter axe roue rayons " +
	"pneu chambre entretoise attache pignon couronne porte garde bague bagues amortisseur bougie carburateur " +
	"gicleur pipe boite collecteur silencieux radiateur robinet bulle selle repose selecteur bequille ampoule " +
	"clignotant feu faisceau retroviseur compteur ecrou ecrous boulon goupille joint joints couvercle soufflet " +
	"goujon pinza pinze disco dischi pastiglie pompa leva cuscinetto cuscinetti catena corona pignone forcella " +
	"ruota pneumatico molla dado vite guarnizione paraolio tappo coperchio specchio serbatoio sella manopola cavo " +
	"pedale pastillas bomba latiguillo maneta palanca rodamiento cadena horquilla rueda neumatico muelle tuerca " +
	"tornillo reten tubo perno bullone tapon tapa espejo deposito asiento piston pistone rivetto anello"))

// ownNames are kinds whose name is a word of its own whatever stands before it:
// a bolt is a bolt, wherever it goes.
var ownNames = set(strings.Fields("bearing bolt nut stud washer seal-washer circlip split-pin clip insert collar " +
	"grommet " +
	"gasket o-ring spring bush kit spacer bulb decal"))
