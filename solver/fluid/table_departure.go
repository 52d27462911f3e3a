package fluid

// bell is one term of a departure function: n delta^d tau^t, and where beta is
// not 0 times exp(-eta (delta - epsilon)^2 - beta (delta - gamma)). The second
// bracket is not squared.
type bell struct {
	n                         float64
	d                         int
	t                         float64
	eta, epsilon, beta, gamma float64
}

// departure is the departure function of one pair and its weight F.
type departure struct {
	i, j  int
	f     float64
	terms []bell
}

// departures lists the fifteen pairs that have one (Kunz & Wagner 2012, table
// A6: F and the generalised function; table A7: the pair-specific functions).
var departures = []departure{
	{methane, nitrogen, 1, departureMethaneNitrogen},
	{methane, carbonDioxide, 1, departureMethaneCarbonDioxide},
	{methane, ethane, 1, departureMethaneEthane},
	{methane, propane, 1, departureMethanePropane},
	{methane, isobutane, 0.771035405688, departureGeneralised},
	{methane, nButane, 1, departureGeneralised},
	{methane, hydrogen, 1, departureMethaneHydrogen},
	{nitrogen, carbonDioxide, 1, departureNitrogenCarbonDioxide},
	{nitrogen, ethane, 1, departureNitrogenEthane},
	{ethane, propane, 0.13042476515, departureGeneralised},
	{ethane, isobutane, 0.260632376098, departureGeneralised},
	{ethane, nButane, 0.281570073085, departureGeneralised},
	{propane, isobutane, -0.0551609771024, departureGeneralised},
	{propane, nButane, 0.0312572600489, departureGeneralised},
	{isobutane, nButane, -0.0551240293009, departureGeneralised},
}

var (
	departureMethaneEthane = []bell{
		{n: -0.00080926050298746, d: 3, t: 0.65},
		{n: -0.00075381925080059, d: 4, t: 1.55},
		{-0.041618768891219, 1, 3.1, 1, 0.5, 1, 0.5},
		{-0.23452173681569, 2, 5.9, 1, 0.5, 1, 0.5},
		{0.14003840584586, 2, 7.05, 1, 0.5, 1, 0.5},
		{0.063281744807738, 2, 3.35, 0.875, 0.5, 1.25, 0.5},
		{-0.034660425848809, 2, 1.2, 0.75, 0.5, 1.5, 0.5},
		{-0.23918747334251, 2, 5.8, 0.5, 0.5, 2, 0.5},
		{0.0019855255066891, 2, 2.7, 0, 0.5, 3, 0.5},
		{6.1777746171555, 3, 0.45, 0, 0.5, 3, 0.5},
		{-6.9575358271105, 3, 0.55, 0, 0.5, 3, 0.5},
		{1.0630185306388, 3, 1.95, 0, 0.5, 3, 0.5},
	}
	departureMethanePropane = []bell{
		{n: 0.013746429958576, d: 3, t: 1.85},
		{n: -0.0074425012129552, d: 3, t: 3.95},
		{n: -0.0045516600213685, d: 4, t: 0},
		{n: -0.0054546603350237, d: 4, t: 1.85},
		{n: 0.0023682016824471, d: 4, t: 3.85},
		{0.18007763721438, 1, 5.25, 0.25, 0.5, 0.75, 0.5},
		{-0.44773942932486, 1, 3.85, 0.25, 0.5, 1, 0.5},
		{0.0193273748882, 1, 0.2, 0, 0.5, 2, 0.5},
		{-0.30632197804624, 2, 6.5, 0, 0.5, 3, 0.5},
	}
	departureMethaneNitrogen = []bell{
		{n: -0.0098038985517335, d: 1, t: 0},
		{n: 0.00042487270143005, d: 4, t: 1.85},
		{-0.034800214576142, 1, 7.85, 1, 0.5, 1, 0.5},
		{-0.13333813013896, 2, 5.4, 1, 0.5, 1, 0.5},
		{-0.011993694974627, 2, 0, 0.25, 0.5, 2.5, 0.5},
		{0.069243379775168, 2, 0.75, 0, 0.5, 3, 0.5},
		{-0.31022508148249, 2, 2.8, 0, 0.5, 3, 0.5},
		{0.24495491753226, 2, 4.45, 0, 0.5, 3, 0.5},
		{0.22369816716981, 3, 4.25, 0, 0.5, 3, 0.5},
	}
	departureMethaneCarbonDioxide = []bell{
		{n: -0.10859387354942, d: 1, t: 2.6},
		{n: 0.080228576727389, d: 2, t: 1.95},
		{n: -0.0093303985115717, d: 3, t: 0},
		{0.040989274005848, 1, 3.95, 1, 0.5, 1, 0.5},
		{-0.24338019772494, 2, 7.95, 0.5, 0.5, 2, 0.5},
		{0.23855347281124, 3, 8, 0, 0.5, 3, 0.5},
	}
	departureNitrogenCarbonDioxide = []bell{
		{n: 0.28661625028399, d: 2, t: 1.85},
		{n: -0.10919833861247, d: 3, t: 1.4},
		{-1.137403208227, 1, 3.2, 0.25, 0.5, 0.75, 0.5},
		{0.76580544237358, 1, 2.5, 0.25, 0.5, 1, 0.5},
		{0.0042638000926819, 1, 8, 0, 0.5, 2, 0.5},
		{0.17673538204534, 2, 3.75, 0, 0.5, 3, 0.5},
	}
	departureNitrogenEthane = []bell{
		{n: -0.47376518126608, d: 2, t: 0},
		{n: 0.48961193461001, d: 2, t: 0.05},
		{n: -0.0057011062090535, d: 3, t: 0},
		{-0.1996682004132, 1, 3.65, 1, 0.5, 1, 0.5},
		{-0.69411103101723, 2, 4.9, 1, 0.5, 1, 0.5},
		{0.69226192739021, 2, 4.45, 0.875, 0.5, 1.25, 0.5},
	}
	departureMethaneHydrogen = []bell{
		{n: -0.25157134971934, d: 1, t: 2},
		{n: -0.0062203841111983, d: 3, t: -1},
		{n: 0.088850315184396, d: 3, t: 1.75},
		{n: -0.035592212573239, d: 4, t: 1.4},
	}
	departureGeneralised = []bell{
		{n: 2.5574776844118, d: 1, t: 1},
		{n: -7.9846357136353, d: 1, t: 1.55},
		{n: 4.7859131465806, d: 1, t: 1.7},
		{n: -0.73265392369587, d: 2, t: 0.25},
		{n: 1.3805471345312, d: 2, t: 1.35},
		{n: 0.28349603476365, d: 3, t: 0},
		{n: -0.49087385940425, d: 3, t: 1.25},
		{n: -0.10291888921447, d: 4, t: 0},
		{n: 0.11836314681968, d: 4, t: 0.7},
		{n: 5.5527385721943e-05, d: 4, t: 5.4},
	}
)
