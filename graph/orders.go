package graph

// Order says that one dimension of a feature is always less than another, or
// at most as much.
type Order struct {
	Less, More string
	MayEqual   bool
}

// Orders lists what must be less than what in a kind of feature; a part that
// says otherwise can't be. Source: plain geometry.
func Orders(kind string) []Order { return orders[kind] }

var orders = map[string][]Order{
	"bar-end":        {{"inside", "diameter", false}},
	"bearing":        {{"inside", "outside", false}},
	"brake-rod":      {{"thread-length", "length", true}},
	"cable-draw":     {{"travel", "most", true}},
	"chain":          {{"roller", "pitch", false}, {"pin", "roller", false}},
	"disc-rim":       {{"minimum", "thickness", true}, {"band", "diameter", false}},
	"drum":           {{"diameter", "most", true}},
	"friction-plate": {{"thickness", "outside", false}, {"minimum", "thickness", true}},
	"hose-end":       {{"bore", "outside", false}},
	"hub-row":        {{"between", "width", true}},
	"male-thread":    {{"grip", "length", true}},
	"pad":            {{"plate", "thickness", false}, {"lining", "thickness", false}, {"minimum", "thickness", false}},
	"seal":           {{"inside", "outside", false}},
	"sleeve":         {{"inside", "outside", false}},
	"spline":         {{"minor", "major", false}},
	"sprocket":       {{"roller", "pitch", false}},
	"spring":         {{"solid", "length", false}, {"minimum", "length", true}},
	"steel-plate":    {{"thickness", "inside", false}},
	"swing-room":     {{"bottom", "top", true}},
	"washer":         {{"inside", "outside", false}},
}
