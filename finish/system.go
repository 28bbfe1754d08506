package finish

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Task is the kind of work in a step.
type Task uint8

const (
	TaskInstall    Task = iota // nail the trim, at studs and splices
	TaskGlue                   // adhesive on the back, if there is nothing for nails to hold in
	TaskFill                   // nail holes
	TaskSand                   // between coats
	TaskCaulk                  // along the edges and up the joints
	TaskMask                   // tape
	TaskPrime                  // first coat
	TaskPaint                  // further coats
	TaskSet                    // stone or tile in mortar
	TaskGrout                  // upright joints of a course
	TaskSeal                   // sealer on stone or grout
	TaskClean                  // wipe down: labor, and cleaner if the step names a material
	TaskBackerRod              // backer rod behind the sealant
	TaskGlueJoints             // outside miters, scarfs and returns
	TaskBrad                   // the thin edge of casing, into the jamb
)

var taskNames = [...]string{
	"install", "glue", "fill", "sand", "caulk", "mask", "prime", "paint",
	"set", "grout", "seal", "clean", "back", "glue joints", "brad",
}

// repeats reports whether Step.Coats applies to a task.
func (t Task) repeats() bool { return t.coats() || t == TaskSand || t == TaskClean }

// coats reports whether a task applies coats, each of which dries.
func (t Task) coats() bool { return t == TaskPrime || t == TaskPaint || t == TaskSeal }

// String returns the task in words.
func (t Task) String() string { return kind.Text("Task", taskNames[:], t) }

// MarshalText writes the task's name, such as "caulk".
func (t Task) MarshalText() ([]byte, error) { return kind.Marshal("Task", "a task", taskNames[:], t) }

// UnmarshalText reads a task's name.
func (t *Task) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a task", taskNames[:], b, t)
}

// Step is one step of a [System]. Only Task must be set; fields that a task
// does not use are ignored, and every zero has the default meaning given.
type Step struct {
	Label    string `json:"label,omitempty"`    // "" = the task's name
	Task     Task   `json:"task"`               // the task; zero is TaskInstall
	Material string `json:"material,omitempty"` // "" = usual: nails, adhesive, filler, sandpaper, caulk, tape, primer, paint, thinset, grout, sealer, backer rod, wood glue, brads; clean: none
	Product  string `json:"product,omitempty"`  // label of the product to use; "" = whichever of the material costs least
	Waste    Waste  `json:"waste,omitzero"`     // on the need

	// Section is the bead of glue on the back or of caulk. Zero is 1/4 in round for
	// glue, 1/8 in square for the joints of a course, and for the edges of trim a
	// fillet with legs of 3/32 in, as gaps of 1/16 in are tooled: 346 ft from a
	// 10.1 fl oz cartridge (common practice, no source). A newspaper's count is 578 ft
	// from tight work (900 ft of base and 1,700 ft of casing from 4.5 cartridges;
	// Virginian-Pilot, 6 April 1996). An old wavy wall takes several times as much:
	// set your own Section, or a [Bead] of its gaps.
	Section  Section       `json:"section,omitzero"`
	Path     measure.Ratio `json:"path,omitempty"`      // glue: bead per length; 0 = 130 %
	Lines    int64         `json:"lines,omitempty"`     // caulk: edges; 0 = the job's Edges; the first caulk step also does corners and splices. back: edges; 0 = 1. mask: edges; 0 = 2
	Coats    int64         `json:"coats,omitempty"`     // prime, paint, seal, sand, clean: 0 = 1
	PerStud  int64         `json:"per_stud,omitempty"`  // nails; 0 = 2 for install, 1 for brad
	PerJoint int64         `json:"per_joint,omitempty"` // install: nails at a splice; 0 = 2
	Bottom   bool          `json:"bottom,omitempty"`    // grout: also the line along the floor, which is then not sealed
	Top      bool          `json:"top,omitempty"`       // grout: also the line along the top, which is then not sealed

	// Yield is the spreading rate of a coat, the coverage of mortar, the reach of
	// a sheet or a cleaner, or the density of grout. If it is zero, a coat,
	// mortar, wood glue and cleaner use the product's own Yield, or else 300 ft2
	// per gal for primer, 350 for paint and sealer, 250 for wood glue, and 80 ft2
	// per 50 lb for mortar.
	Yield Yield `json:"yield,omitzero"`

	Dry     Drying   `json:"dry,omitzero"`      // of each coat; zero = the product's, or else the shelf's for the task
	Hazards []Hazard `json:"hazards,omitempty"` // besides the task's own
}

// System is an ordered list of finishing steps. [PaintedTrim], [PaintedCasing],
// [StainedTrim] and [TileBase] are ready to use.
type System struct {
	Label string `json:"label"` // its name for people
	Steps []Step `json:"steps"` // in the order of work
}

// Materials returns the materials of the steps, each once, in the order of
// first use. A shelf needs a product for each of them that a job uses.
func (s System) Materials() []string {
	var all []string
	for _, step := range s.Steps {
		if int(step.Task) >= len(usualMaterial) {
			continue
		}
		if m := or(step.Material, usualMaterial[step.Task]); m != "" && !slices.Contains(all, m) {
			all = append(all, m)
		}
	}
	return all
}

// filledBefore returns the joints that steps other than number k fill.
func (s System) filledBefore(k int) filledBy {
	var by filledBy
	for i := range s.Steps {
		switch task := s.Steps[i].Task; {
		case task == TaskGrout && by.grout == nil:
			by.grout = &s.Steps[i]
		case task == TaskCaulk && i < k:
			by.caulk = true
		}
	}
	return by
}

// PaintedTrim returns a system for site-painted trim: glue the joints, nail, fill,
// sand, prime, sand, caulk, mask, two coats, clean. A joint is glued when it is
// closed, before it is nailed. Bare wood is primed before it is caulked, since it
// draws the water out of latex caulk (common practice, no source). The steps are a
// fresh slice; change them freely. Wastes and the caulk bead are common practice
// without a source.
func PaintedTrim() System {
	return System{Label: "painted trim", Steps: []Step{
		{Task: TaskGlueJoints, Waste: Waste{Share: 100 * measure.Percent}},
		{Task: TaskInstall, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskFill, Waste: Waste{Share: 300 * measure.Percent}},
		{Task: TaskSand, Label: "sand the filler"},
		{Task: TaskPrime, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskSand, Label: "sand the primer"},
		{Task: TaskCaulk, Waste: Waste{Share: 15 * measure.Percent}},
		{Task: TaskMask, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskPaint, Coats: 2, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskClean},
	}}
}

// PaintedCasing returns [PaintedTrim] with the two rows of nails of casing, in
// pairs: finish nails through its thick edge into the studs, brads through its
// thin edge into the jamb (NAVEDTRA 14044, chapter 6: pairs about 16 in apart,
// the shorter nail at the jamb).
func PaintedCasing() System {
	s := PaintedTrim()
	s.Label = "painted casing"
	nails := slices.IndexFunc(s.Steps, func(x Step) bool { return x.Task == TaskInstall })
	s.Steps[nails].PerStud = 1
	s.Steps = slices.Insert(s.Steps, nails+1, Step{Task: TaskBrad, Waste: Waste{Share: 10 * measure.Percent}})
	return s
}

// StainedTrim returns a system for stain-grade trim: glue the joints, nail, sand the
// bare wood, mask, stain, a coat of sanding sealer, fill the holes with colored putty,
// sand, two coats of varnish, clean. Nothing is caulked, and the holes are filled when
// the color of the finished wood shows (common practice, no source). For clear trim
// delete the step "stain"; for casing add a [TaskBrad] step and set PerStud of install
// to 1, as in PaintedCasing. The steps are a fresh slice; change them freely.
//
// Give each product the Yield and Dry of its sheet. Varnish of a century ago covered 350
// to 450 ft2 per gal in the first coat and 450 to 550 later (ICS Building Construction,
// volume 4), where the default is 350; oil finishes dry 16 to 24 h between coats (from
// memory), where the default is 4 h, as for enamel.
func StainedTrim() System {
	waste := Waste{Share: 10 * measure.Percent}
	return System{Label: "stained trim", Steps: []Step{
		{Task: TaskGlueJoints, Waste: Waste{Share: 100 * measure.Percent}},
		{Task: TaskInstall, Waste: waste},
		{Task: TaskSand, Label: "sand the wood"},
		{Task: TaskMask, Waste: waste},
		{Task: TaskPaint, Label: "stain", Material: "stain", Waste: waste, Hazards: []Hazard{HazardOilyRags}},
		{Task: TaskPaint, Label: "seal the wood", Material: "sanding sealer", Waste: waste},
		{Task: TaskFill, Label: "fill with colored putty", Material: "colored putty", Waste: Waste{Share: 300 * measure.Percent}},
		{Task: TaskSand, Label: "sand the sealer"},
		{Task: TaskPaint, Label: "varnish", Material: "varnish", Coats: 2, Waste: waste},
		{Task: TaskClean},
	}}
}

// TileBase returns a system for a stone or tile base: set, grout the joints
// between strips and the outside corners, sealant along the floor, the top and the
// inside corners, sealer. A grouted top ([Step.Top]) is not sealed. The steps are
// a fresh slice; change them freely. Wastes are common practice without a source,
// except the 10 % on grout that a published mosaic example includes.
func TileBase() System {
	return System{Label: "tile base", Steps: []Step{
		{Task: TaskSet, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskGrout, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskCaulk, Label: "sealant at the changes of plane", Material: "sealant", Section: Section{Width: measure.Inch / 8}, Waste: Waste{Share: 15 * measure.Percent}},
		{Task: TaskSeal, Waste: Waste{Share: 10 * measure.Percent}},
		{Task: TaskClean},
	}}
}

// Job holds the totals of one profile or one course, to which a system is applied. Splices,
// joints of a course and corners are distinct: count each in only one field. Every edge is
// assumed to be as long as the trim: give the length of flat-mitered trim, such as casing,
// along the middle of its face, which is the average of both edges. In an inside corner,
// crown is longer at the wall than at the ceiling by its projection, and in an outside
// corner shorter; in a room with more inside corners, some material is left over.
type Job struct {
	Label  string         `json:"label"`            // required and unique
	Length measure.Length `json:"length"`           // net installed; >= 0
	Height measure.Length `json:"height,omitempty"` // of the trim or base; >= 0
	Face   measure.Length `json:"face,omitempty"`   // developed face, for coats; 0 = Height
	Back   measure.Length `json:"back,omitempty"`   // height of the mortar bed behind a course; 0 = Height
	Runs   int64          `json:"runs,omitempty"`   // 0 = 1

	// Edges is the number of edges caulked or sealed along their length. Zero means
	// 1, the top of a base, or 2 for a course, floor and top. Casing and crown have
	// 2.
	Edges        int64 `json:"edges,omitempty"`
	Splices      int64 `json:"splices,omitempty"`       // scarfs and square joints within runs of wood; >= 0
	CourseJoints int64 `json:"course_joints,omitempty"` // upright joints between the strips of a course; 0 = computed from Tile
	Corners      int64 `json:"corners,omitempty"`       // inside and outside; >= 0
	Outside      int64 `json:"outside,omitempty"`       // the outside ones among Corners; at most Corners
	Glued        int64 `json:"glued,omitempty"`         // outside miters, scarfs and returns; >= 0

	Studs   measure.Length `json:"studs,omitempty"`   // spacing; 0 = 16 in
	Holes   int64          `json:"holes,omitempty"`   // to fill; 0 = one for each nail of the install and brad steps
	Tile    Tile           `json:"tile,omitzero"`     // of a stone or tile base; its Width 0 = Height
	Hazards []Hazard       `json:"hazards,omitempty"` // of the trim itself

	// Preprimed is set for factory-primed trim: its prime steps cover only the spots
	// that the work laid bare. These are an inch for each hole, and for each cut end
	// (two per run and per splice) a strip an inch wide along its height (common
	// practice, no source).
	Preprimed bool `json:"preprimed,omitempty"`
}

// Work is a system applied to a job.
type Work struct {
	System System `json:"system"` // the task
	Job    Job    `json:"job"`    // the job to which it is applied
}

// StepResult holds the need of one step of one job and its work, in each unit
// that a labor rate may count.
type StepResult struct {
	Job   string `json:"job"`          // label of the job
	Step  string `json:"step"`         // label of the step
	Task  Task   `json:"task"`         // the task
	Need  Need   `json:"need"`         // empty Material for labor only
	Coats int64  `json:"coats"`        // coats that dry one after another; 1 if a task has no coats
	Dry   Drying `json:"dry,omitzero"` // of each coat

	// DryDoubt describes the doubt about Dry in words; "" if the sheet gives it for the
	// climate.
	DryDoubt string `json:"dry_doubt,omitempty"`

	Length measure.Length `json:"length,omitempty"` // of trim, of all coats; of edges for caulk, tape and backer rod
	Area   measure.Area   `json:"area,omitempty"`   // of the surface, of all coats
	Count  int64          `json:"count,omitempty"`  // of nails, holes, glued joints or grouted joints
	Joints int64          `json:"joints,omitempty"` // joints and corners that take extra work, in every coat

	// Hazards are the hazards of the task, the step, the job and the product bought for
	// it, each once.
	Hazards []Hazard `json:"hazards,omitempty"`
}

// idle reports whether there is nothing to do.
func (r StepResult) idle() bool {
	if r.Need.Material == "" {
		return r.Length == 0
	}
	return r.Need.Net.IsZero()
}

// List is the finishing list of a project.
type List struct {
	Steps     []StepResult `json:"steps"`     // in the order of work
	Purchases []Purchase   `json:"purchases"` // by material, in order of first use
	Cost      int64        `json:"cost"`      // of the purchases, in cents
	Cautions  []Caution    `json:"cautions"`  // of all tasks and products, each once
}

// Shelf holds the products and defaults available to a project.
type Shelf struct {
	Products []Product    `json:"products"`         // labels are unique
	Drying   []TaskDrying `json:"drying,omitempty"` // nil = DefaultDrying; a task without an entry dries at once

	// Climate is the air on the site, for products that dry by temperature and humidity.
	Climate Climate `json:"climate,omitzero"`

	// Locale is the locale of the reasoning, the cautions and the names of packages without
	// a label. It changes no amount.
	Locale measure.Locale `json:"locale,omitzero"`
}

// Validate returns nil if the shelf is valid, or every fault as joined
// [*measure.FieldError] values, at most 100.
func (s Shelf) Validate() error {
	var f fault.List
	labels := make(map[string]bool, len(s.Products))
	for i, p := range s.Products {
		at := "products[" + strconv.Itoa(i) + "]"
		if labels[p.Label] && p.Label != "" {
			f.Add(at+".label", p.Label, "a label that no other has")
		}
		labels[p.Label] = true
		f.Under(at, p.Validate())
	}
	var seen [len(taskNames)]bool
	for i, d := range s.Drying {
		at := "drying[" + strconv.Itoa(i) + "]"
		switch {
		case int(d.Task) >= len(seen):
			f.Add(at+".task", uint8(d.Task), "a known task")
		case seen[d.Task]:
			f.Add(at+".task", d.Task, "a task that no other has")
		default:
			seen[d.Task] = true
		}
		f.Under(at+".dry", d.Dry.check())
	}
	f.Under("climate", s.Climate.check())
	f.Under("locale", s.Locale.Validate())
	return f.Err()
}

// Validate returns nil if the job is valid, or every fault as joined
// [*measure.FieldError] values, at most 100.
func (j Job) Validate() error {
	var f fault.List
	if j.Label == "" {
		f.Add("label", j.Label, "a name")
	}
	for _, x := range [...]struct {
		name string
		l    measure.Length
	}{{"length", j.Length}, {"height", j.Height}, {"face", j.Face}, {"back", j.Back}} {
		if x.l < 0 {
			f.Add(x.name, AmountOf(x.l), "zero or more")
		}
	}
	for _, x := range [...]struct {
		name string
		n    int64
	}{{"runs", j.Runs}, {"edges", j.Edges}, {"splices", j.Splices}, {"course_joints", j.CourseJoints}, {"corners", j.Corners}, {"outside", j.Outside}, {"glued", j.Glued}} {
		if x.n < 0 {
			f.Add(x.name, x.n, "zero or more")
		}
		if x.name == "outside" && j.Corners >= 0 && j.Outside > j.Corners {
			f.Add(x.name, x.n, "at most the corners, "+itoa(j.Corners))
		}
	}
	if j.Studs < 0 {
		f.Add("studs", AmountOf(j.Studs), "zero or more")
	}
	if j.Holes < 0 {
		f.Add("holes", j.Holes, "zero or more")
	}
	for _, x := range [...]struct {
		name string
		l    measure.Length
	}{{"length", j.Tile.Length}, {"width", j.Tile.Width}, {"thickness", j.Tile.Thickness}, {"joint", j.Tile.Joint}} {
		if x.l < 0 {
			f.Add("tile."+x.name, AmountOf(x.l), "zero or more")
		}
	}
	f.Under("", checkHazards(j.Hazards))
	return f.Err()
}
