package cutsheet

// buying writes the shopping list, to be torn off.
func (h *page) buying() {
	class := "buy"
	if !h.small() {
		class += " page"
	}
	h.Open("div", "class", class)
	h.needs("To buy", false)
	h.needs("Off the rack", true)
	h.bills()
	h.Close()
	h.Line()
	h.Leaf("p", "tear off the part above and take it to the supplier", "class", "tear")
	h.Line()
}

// small reports whether two pages probably hold everything, from the number of rows and their
// usual height on paper, in points. If the guess is wrong, the shopping list has a page of its
// own or shares one; nothing else depends on it.
func (h *page) small() bool {
	const most = 1300
	points := 170 // title, cautions, headings
	points += 17 * (len(h.lines) + len(h.bill) + len(h.offcuts) + len(h.settings) + 2*len(h.plan.Spliced))
	if len(h.settings) > 0 {
		points += 80
	}
	if len(h.plan.Spliced) > 0 {
		points += 35
	}
	if h.placed() {
		points += 60 + 8*len(h.problem.Pieces) // in two columns
	}
	for k := range h.patterns {
		if points > most {
			break
		}
		points += 40 + 20*len(h.patterns[k].cuts)
	}
	return points <= most
}

// needs lists the sticks to buy, or those off the rack.
func (h *page) needs(heading string, rack bool) {
	var lines []line
	notes := false
	for _, l := range h.lines {
		if st := &h.problem.Sticks[l.stick]; st.Rack == rack {
			lines = append(lines, l)
			notes = notes || len(h.notes(&l)) > 0
		}
	}
	if len(lines) == 0 {
		return
	}
	priced := h.priced()
	if rack {
		priced = false
		for _, l := range lines {
			priced = priced || h.problem.Sticks[l.stick].Price != 0
		}
	}
	h.Open("section")
	h.Leaf("h2", heading)
	if notes {
		h.Open("table", "class", "list")
	} else {
		h.Open("table", "class", "list narrow")
	}
	columns := []string{"Got", "tick", "Sticks", "n", "Length", "n"}
	if priced {
		columns = append(columns, "Each", "n", "Total", "n")
	}
	if notes {
		columns = append(columns, "Description", "")
	}
	h.heads(columns...)
	h.Open("tbody")
	for i := range lines {
		h.need(&lines[i], priced, notes)
	}
	h.Close()
	if priced && !rack && len(h.bill) == 0 {
		h.Open("tfoot")
		h.tr("")
		h.columns = nil
		h.Leaf("td", "Cost", "colspan", "4")
		h.cell(h.cost(h.plan.Cost), "n")
		if notes {
			h.cell("", "")
		}
		h.Close()
		h.Close()
	}
	h.Close()
	h.Close()
	h.Line()
}

// need writes the row of a kind of stick.
func (h *page) need(l *line, priced, notes bool) {
	st := &h.problem.Sticks[l.stick]
	h.tr("")
	h.td("tick")
	h.box("got " + h.plural(l.count, "stick") + " of " + h.stickName(l.stick))
	h.Close()
	h.cell(h.count(l.count), "n")
	h.lengthCell(h.length(soldAs(st)), "len")
	if priced {
		h.cell(h.money(l.each), "n")
		h.cell(h.money(l.price()), "n")
	}
	if notes {
		h.td("")
		for i, note := range h.notes(l) {
			if i > 0 {
				h.Chars("; ")
			}
			if i == 0 && h.stickLabel(st) != "" {
				h.Leaf("bdi", note)
			} else {
				h.Chars(note)
			}
		}
		h.Close()
	}
	h.Close()
	h.Line()
}

// bills adds up the cost of the plan if it is more than the price of the sticks.
func (h *page) bills() {
	spare := h.spare()
	if len(h.bill) == 0 && spare == "" {
		return
	}
	h.Open("section")
	if len(h.bill) > 0 {
		h.Leaf("h2", "What it costs")
		h.Open("table", "class", "list narrow")
		h.columns = nil
		h.Open("tbody")
		row := func(what string, amount int64) {
			h.tr("")
			h.label(what)
			h.cell(h.money(amount), "n")
			h.Close()
			h.Line()
		}
		row("sticks to buy", h.toBuy())
		for i := range h.bill {
			row(h.chargeWords(&h.bill[i]), h.bill[i].amount)
		}
		h.Close()
		h.Open("tfoot")
		row(upper(h.costName()), h.plan.Cost)
		h.Close()
		h.Close()
	}
	if spare != "" {
		h.Leaf("p", spare)
	}
	h.Close()
	h.Line()
}
