package optimize_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// list reads pieces written as length x quantity, "45x97, 36x610, 31", in some
// unit.
func list(t *testing.T, unit measure.Length, s string) []stock.Piece {
	t.Helper()
	var out []stock.Piece
	for f := range strings.SplitSeq(s, ",") {
		var l int64
		var q int
		if _, err := fmt.Sscanf(strings.TrimSpace(f), "%dx%d", &l, &q); err != nil {
			q = 1
			if _, err := fmt.Sscanf(strings.TrimSpace(f), "%d", &l); err != nil {
				t.Fatalf("bad piece %q: %v", f, err)
			}
		}
		out = append(out, stock.Piece{Length: measure.Length(l) * unit, Quantity: q})
	}
	return out
}

// TestPublished solves problems from books, courses, manuals and public
// questions. "Published" says that the source prints the optimum; the others
// were computed once more, outside this project, with general solvers.
func TestPublished(t *testing.T) {
	const mm = measure.Millimeter
	one := func(l int) []stock.Stick { // the objective counts sticks
		return []stock.Stick{{Length: measure.Length(l) * mm, Price: 1}}
	}
	tests := []struct {
		name   string
		sticks []stock.Stick
		pieces string
		unit   measure.Length // 0 = mm
		kerf   measure.Length
		cost   int64
	}{
		// V. Chvatal, Linear Programming (1983), ch. 13, as given in the NEOS guide and the GAMS model
		// library; the value of its linear program is 452.25.
		{"Chvatal 1983, Linear Programming, ch. 13", one(100), "45x97, 36x610, 31x395, 14x211", 0, 0, 453},
		// SAS/OR manual, table 4.13: the same with 35 for 36.
		{"Chvatal, variant of the SAS/OR manual", one(100), "45x97, 35x610, 31x395, 14x211", 0, 0, 453},
		// R. Fourer, D. M. Gay, B. W. Kernighan, AMPL, model "cut"; data as in
		// the public example cut-fix-size.mod. Linear program 46.25.
		{"AMPL book cut model", one(110), "20x48, 45x35, 50x24, 55x10, 75x8", 0, 0, 47},
		// Cutting stock example of the AMPL API for Java and Python, its
		// allowance for overrun left out. Linear program 17.941.
		{"AMPL API sample", one(6450), "677x10, 756x40, 1746x33, 1876x10", 0, 0, 18},
		// Published: the OR-Tools C++ cutting stock sample takes the data from
		// Wikipedia and quotes 73 rolls as best known.
		// Linear program 72.9167.
		{"Encyclopedia example (paper machine, 5600 mm)", one(5600), "1380x22, 1520x25, 1560x12, 1710x14, 1820x18, 1880x18, " +
			"1930x20, 2000x10, 2050x12, 2100x14, 2140x16, 2150x18, 2200x20", 0, 0, 73},
		// scipopt/PySCIPOpt, issue 851: reports of wrong answers if only the columns of the linear
		// program are rounded.
		{"Tiny roll, integrality: LP 5", one(4), "3x3, 2x4, 1x3", 0, 0, 5},
		{"Tiny roll, integrality: LP 5.25", one(4), "3x3, 2x4, 1x4", 0, 0, 6},
		// Benchmark model cutstock.mzn, after Puchinger 2007.
		{"Kantorovich model data", one(10), "7x2, 5x2, 3x4", 0, 0, 4},
		// google/or-tools, issue 4529: the data of the bin packing tutorial, and
		// of a reader who expected fewer bins than the material allows.
		{"OR-Tools bin packing tutorial", one(100), "48,30,19,36,36,27,42,42,36,24,30", 0, 0, 4},
		{"A harder user list", one(100), "48,30,19,36,36,27,42,42,36,24,30, 33x5, 45x2, 67, 27, 80, 44, 38, 77", 0, 0, 11},
		// The same issue; one 1256 is listed by itself.
		{"Long list from the same issue", one(6500), "2378, 2177, 1882, 1256, 1329, 2203x6, 956x3, 1506x12, 1256x12", 0, 0, 10},
		// F. Brandao, Bin packing and related problems: general arc-flow
		// formulation with graph compression, MSc thesis (2012), example 1.
		// Published: three patterns 5+2 and one with 3.
		{"Brandao 2012 thesis, Example 1", one(7), "5x3, 3x1, 2x2", 0, 0, 4},
		// G. Belov, test data of a branch-cut-and-price code (directory
		// dat1). Published: result files beside the data give these as bounds.
		{"Belov n1", one(24), "5x23, 3x55", 0, 0, 12},
		{"Belov n2", one(35), "5x33, 2x110", 0, 0, 11},
		{"Belov n3", one(136), "5x12, 9x32, 7x28", 0, 0, 4},
		{"Belov n4", one(1000000), "46620x21, 9324x27, 20979x34", 0, 0, 2},
		{"Belov ganter", one(14), "10,9,8,7,6,5,4,3,2,1", 0, 0, 4},
		{"Belov vadim", one(70), "30,28,18,15,14,13,11,5,5", 0, 0, 2},
		// Column generation tutorial of the JuMP documentation, widths in tenths, five orders of the
		// first width. It reaches 334 and says that it may not be the minimum; the value of the linear
		// program is 334.
		{"JuMP tutorial (20 lines, widths with one decimal)", one(1000), "750x38, 750x44, 750x30, 750x41, 750x36, 538x33, 530x36, " +
			"510x41, 502x35, 322x37, 308x44, 298x49, 201x37, 162x36, 145x42, 110x33, 86x47, 82x35, 66x49, 51x42", 0, 0, 334},
		// Mosel User Guide, section 11.2, from a public transcription. Linear
		// program 96.111.
		{"Mosel User Guide 11.2 (15 widths)", one(100), "6x9, 11x6, 17x20, 21x30, 24x17, 28x19, 30x25, 33x12, 42x8, 49x20, " +
			"56x5, 69x14, 74x15, 87x18, 91x10", 0, 0, 97},
		// R. W. Haessler, Selection and design of heuristic procedures for
		// solving roll trim problems, Management Science 34 (1988) 1460-1471,
		// table 2, widths in eighths of an inch; its limits on knives and its
		// overrun rules left out. Linear program 32.7965.
		{"Haessler 1988, widths in eighths of an inch",
			[]stock.Stick{{Length: 172 * measure.Inch, Price: 1}},
			"200x5, 198x73, 144x14, 140x4, 124x23, 123x5, 111x29, 100x87, 98x9, 96x31, 82x6, 81x14, 80x43, 70x15, 68x21, 62x5",
			measure.Inch / 8, 0, 33},
		// P. C. Gilmore, R. E. Gomory, A linear programming approach to the
		// cutting-stock problem, Operations Research 9 (1961) 849-859, as
		// attributed by a public notebook on mathematical optimization.
		{"Gilmore & Gomory 1961, stock lengths with costs",
			[]stock.Stick{{Length: 5 * mm, Price: 6}, {Length: 6 * mm, Price: 7}, {Length: 9 * mm, Price: 10}},
			"2x20, 3x10, 4x20", 0, 0, 170},
		// Published: an example distributed with the arc-flow method of F. Brandao and
		// J. P. Pedroso asserts 1280. Linear program 1272.77: only sums of the
		// bins' sizes, all multiples of ten, close the gap.
		{"Variable-sized bin packing, cost = size", []stock.Stick{{Length: 100 * mm}, {Length: 120 * mm}, {Length: 150 * mm}},
			"10,14,17,19x2,24,29,32,33,36,38,40,50,54,55,63,66,71,77x2,79,83,92,95,99", 0, 0, 1280 * int64(mm)},
		// C. Gueret, C. Prins, M. Sevaux, section 9.6, from a public transcription without the answer:
		// four legs each for 108, 125 and 100 desks. The legs sum to 75280, which no sum of bars
		// equals.
		{"Desk legs (Gueret, Prins, Sevaux, 9.6)", []stock.Stick{{Length: 150 * mm}, {Length: 200 * mm}},
			"40x432, 60x500, 70x400", 0, 0, 75300 * int64(mm)},
		// A public report about a solver that used three bars where two exist.
		{"Limited stock, two costs, kerf 4",
			[]stock.Stick{{Length: 6950 * mm, Price: 6950, Limit: 8}, {Length: 7000 * mm, Price: 3500, Limit: 2}},
			"2408x8", 0, 4 * mm, 20900},
		{"Limited stock, two costs, kerf 4: the second costs 7000",
			[]stock.Stick{{Length: 6950 * mm, Price: 6950, Limit: 8}, {Length: 7000 * mm, Price: 7000, Limit: 2}},
			"2408x8", 0, 4 * mm, 27800},
		// A public report about a solver that gave no plan for these thirty
		// parts. Linear program 4.5526.
		{"Kerf with many small parts", one(4000), "1022x2, 922x3, 512x3, 920x5, 510x5, 415x2, 315x4, 265x2, 925x1, 515x1, 215x2", 0, 4 * mm, 5},
		// google/or-tools, examples/python/arc_flow_cutting_stock_sat.py. Linear
		// program 304032: only the lengths' common divisor closes the gap.
		{"OR-Tools arc-flow sample, five stock lengths, minimize waste",
			[]stock.Stick{{Length: 4000 * mm}, {Length: 5000 * mm}, {Length: 6000 * mm}, {Length: 7000 * mm}, {Length: 8000 * mm}},
			"3980x14, 3690x2, 3656x2, 3290x2, 3256x2, 3018x26, 2890x2, 2856x2, 2790x4, 2756x4, 2490x4, 2456x4, 2391x21, 943x13, 938x14, 596x21",
			0, 0, 305000 * int64(mm)},
		{"OR-Tools arc-flow sample, toy", []stock.Stick{{Length: 10 * mm}, {Length: 20 * mm}}, "12x2, 8x3", 0, 0, 50 * int64(mm)},
		// W. L. Winston, Operations Research, the Woodco boards, as read in
		// lecture notes of the course MIE376. Linear program 18.333.
		{"Textbook boards: Woodco", one(17), "3x25, 5x20, 9x15", 0, 0, 19},
		// Exercises on course sites, statements without answers.
		{"Textbook boards: Taylor", one(25), "7x700, 9x1200, 10x300", 0, 0, 775},
		{"Textbook boards: Bellows", one(25), "7x5000, 9x1200, 11x300", 0, 0, 2167},
		{"Textbook boards: Milton", one(20), "3x50, 4x25, 8x15, 10x70", 0, 0, 54},
		{"Textbook boards: plumber", one(19), "4x12, 5x15, 6x22", 0, 0, 14},
		{"Textbook boards: mill", one(35), "10x75, 15x35, 20x15", 0, 0, 47},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			unit := tt.unit
			if unit == 0 {
				unit = mm
			}
			p := optimize.Problem{Sticks: tt.sticks, Pieces: list(t, unit, tt.pieces), Kerf: tt.kerf}
			plan := mustSolve(t, p)
			if plan.Cost != tt.cost || plan.Bound != tt.cost || !plan.Proven {
				t.Errorf("cost %d, bound %d, proven %v; want %d proven", plan.Cost, plan.Bound, plan.Proven, tt.cost)
			}
		})
	}
}

// TestPublishedHard solves the small problems of the literature whose optimum is far from the value
// that a linear program or floating point suggests. Lengths are ticks.
func TestPublishedHard(t *testing.T) {
	tests := []struct {
		name   string
		stick  int64
		pieces string
		sticks int64
	}{
		// G. Belov, test data nIRUP of a branch-cut-and-price code: the optimum
		// is more than one above the linear program, 149/30.
		{"Fieldhouse-type gap above 1", 30, "15x3, 10x5, 6x9", 6},
		// The same, GauWae1 and GauWae1equiv: only patterns within the demand prove a bound of 3.
		{"Gau-Waescher", 10000, "5000x1, 3750x1, 3250x1, 3001x1, 2000x2", 3},
		{"Gau-Waescher, small equivalent", 60, "30x1, 22x1, 20x1, 19x1, 12x2", 3},
		// The same, RietzModell and Rietzx1.
		{"Rietz model", 45, "27x3, 23x3, 15x6, 11x6, 9x10", 9},
		{"Rietz x1", 387, "177x3, 145x2, 133x2, 130x1, 129x5, 127x2, 121x2, 113x1, 105x1, 97x1", 8},
		// S. Umetani, fiber industry data fiber06. Published: table 3.8 of F.
		// Brandao's thesis (2012) gives 33 for the first.
		{"Fiber06, 5180", 5180, "1250x5, 1150x64, 1120x9, 1066x18, 1000x11, 520x91", 33},
		{"Fiber06, 9080", 9080, "1250x5, 1150x64, 1120x9, 1066x18, 1000x11, 520x91", 19},
		// A public issue thread about twelve-meter bars. Linear program 490.097.
		{"Twelve-meter bars, ten lengths", 12000, "6000x200, 5500x150, 5200x220, 4800x100, 4400x100, 3500x264, 2500x80, " +
			"2400x156, 1700x50, 1150x150", 491},
		// atoptima/Coluna.jl, issue 302. Linear program 71.25.
		{"Ten sheet widths", 120, "92x10, 59x11, 97x11, 32x12, 38x12, 55x12, 80x10, 75x11, 108x12, 57x10", 72},
		// G. Belov, test data dat1/53NIRUPs: the material and the linear program both prove one less.
		{"53NIRUPs 02015007_0918", 1000,
			"697, 679, 667, 643, 569, 520, 496, 492, 484, 442, 368, 351, 339, 335, 332, 331, 310, 213, 197, " +
				"190", 10},
		{"53NIRUPs 04000107_0697", 1000,
			"669, 660, 610, 606, 577, 567, 560, 558, 524, 515, 498x3, 490, 472, 440, 439, 433, 421, 418, " +
				"412, 399, 357, 354, 351, 348, 322, 266, 256, 222, 221, 199, 168, 140, 134, 107, 105, 52, 51, " +
				"18", 16},
		{"53NIRUPs 04005007_0612", 1000,
			"674, 667, 647, 576, 575, 559, 549, 544, 538, 516, 492, 485, 483, 438, 436, 428, 426, 421, 401, " +
				"397, 373, 367, 362, 346, 345, 321, 317, 310, 280, 211, 202, 201, 181, 179, 174, 129, 121, 118, " +
				"98, 55", 16},
		// G. Belov, test data dat1/eps_issue and messages of 2012 ("3 bins is
		// optimal"): lengths of fifty bits that a solver with a tolerance gets
		// wrong.
		{"Tolerance trap 1", 1367814434311377,
			"274884374398721, 264600651501467, 258731141537366, 254635954282597, 242155468908822, 242128468553471, " +
				"239655000341958, 232592181284553, 232067924106727, 218644220614643, 180933023337355, 158751036599280, " +
				"156493074518919, 141541685483683, 140556123411558, 137863258604806, 137746117289530, 109189180667508, " +
				"88132179442076, 66419317778749, 62399697185031, 57669703934578, 54762816719022, 53598890256928, " +
				"48203549088677, 30521068829401, 18564151635008", 3},
		{"Tolerance trap 2", 1256639273413260,
			"268156749963987, 267894124717819, 265852084646707, 246212060517991, 236598339401976, 217766237792891, " +
				"216772936811868, 200382752411375, 192592598447475, 186979459193742, 184606467255928, 181038336490458, " +
				"162510126601055, 161769131514551, 149233564855514, 125786814122488, 119636406627985, 111762912633806, " +
				"108165375332576, 72910145680318, 67130247718277, 23173982506114, 2967630874775", 3},
		{"Tolerance trap 3", 1069616851349806,
			"238946772648327, 237725614614948, 194011668551229, 191416530195871, 169341620792751, 166558512067886, " +
				"166277356985030, 164662141938962, 162647959901817, 160603869324447, 154715817706913, 151592697586728, " +
				"149854850260431, 149342549917168, 148451391118493, 129729726896178, 114195989964832, 112403565300642, " +
				"94113390145220, 53326474900068, 46277279467466, 43714050460743, 8939051594313", 3},
		{"Tolerance trap 4", 1391555162007056,
			"280598678705599, 261343061467054, 257070307983298, 256081135408835, 251549716985201, 251475568851542, " +
				"247634396594046, 241032373302696, 226335617943283, 210365533739643, 189951038485551, 188842344030264, " +
				"182137629434046, 169043636165811, 166216110096825, 141898377011954, 127007930867210, 122447996229052, " +
				"112203273957521, 95161385811732, 68721441360532, 53014897030485, 44271016839004, 15096411663148, " +
				"14162274250295, 736412574072, 266057611799", 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			pieces := list(t, 1, tt.pieces)
			if testing.Short() && len(pieces) > 20 {
				t.Skip("takes seconds on a slow machine")
			}
			t.Parallel() // not only for speed: solving shares nothing
			plan := mustSolve(t, optimize.Problem{
				Sticks: []stock.Stick{{Length: measure.Length(tt.stick), Price: 1}},
				Pieces: pieces,
			})
			if plan.Cost != tt.sticks || plan.Bound != tt.sticks || !plan.Proven {
				t.Errorf("cost %d, bound %d, proven %v; want %d proven", plan.Cost, plan.Bound, plan.Proven, tt.sticks)
			}
		})
	}
}
