"""Invented papers' contents for the tests: a made-up shop, owner and machine."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from shopdesk.job.paper_content import (
    Addressee,
    ApprovalRow,
    BenchCheckRow,
    BenchSheetContent,
    CautionRow,
    ChargeRow,
    DoneRow,
    EstimateContent,
    FoundRow,
    InvoiceContent,
    Letterhead,
    MachineOnPaper,
    PaymentRow,
    PhotoOnPaper,
    ReassemblyRow,
    ReminderContent,
    SummaryContent,
    TagContent,
    TeardownRow,
    UpkeepRow,
)
from shopdesk.papers.words import Words, load_words
from shopdesk.places import templates_folder
from shopdesk.pricing.totals import LineKind, PricedLine, TaxBasis, TaxRate, Totals, total

WORDS: Words = load_words(templates_folder())
RATE = TaxRate("Sales tax", Decimal("7.25"))

SHOP = Letterhead(
    name="Fernhollow Small Engines",
    address=("14 Millrace Lane", "Fernhollow"),
    phone="555-0142",
    email="bench@fernhollow.example.com",
    tax_number="FH-0042",
    currency="$",
    paper="letter",
)
SHOP_A4 = replace(SHOP, paper="A4", currency="€")
OWNER = Addressee(
    name="Zoë Łukaszewicz-Đặng",
    address=("7 Orchard Row", "Fernhollow"),
    phones=("555-0117", "555-0118"),
    email="zoe@example.com",
)
MACHINE = MachineOnPaper(
    title="String trimmer, Tarnbeck TB-26", serial="TB26-004417", engine="two-stroke, 26 cc"
)
COMPLAINT = "It starts cold, then dies as soon as I squeeze the trigger. Worse since last week."


def charge(kind: str, what: str, quantity: str, price: str, **more: str | bool) -> ChargeRow:
    """One line with its net worked out."""
    amount = Decimal(quantity) * Decimal(price)
    return ChargeRow(
        kind=kind,
        description=what,
        part_number=str(more.get("part_number", "")),
        condition=str(more.get("condition", "")),
        quantity=Decimal(quantity),
        unit_price=Decimal(price),
        net=amount.quantize(Decimal("0.01")),
        taxed=bool(more.get("taxed", True)),
        why=str(more.get("why", "")),
        evidence=str(more.get("evidence", "")),
    )


CHARGES = (
    charge(
        "part",
        "Carburettor kit",
        "1",
        "18.40",
        part_number="CK-2201",
        condition="new",
        why="failed",
        evidence="The diaphragm is stiff: the needle leaked at 6 psi, limit 10.",
    ),
    charge(
        "part",
        "Fuel line, cut to length",
        "2",
        "3.25",
        part_number="FL-090",
        condition="new",
        why="worn",
        evidence="Cracked at the tank end when bent.",
    ),
    charge(
        "part",
        "Starter grip",
        "1",
        "4.00",
        condition="used",
        why="asked for by the owner",
        evidence="No finding supports this part.",
    ),
    charge(
        "labour",
        "Carburettor off, cleaned, kit fitted, set",
        "0.8",
        "85.00",
        taxed=False,
        why="failed",
        evidence="Follows from the leaking needle.",
    ),
    charge("fee", "Finding the trouble (diagnosis fee)", "1", "30.00", taxed=False),
    charge("discount", "Neighbour's discount", "1", "-5.00", taxed=False),
)


def totals(rows: tuple[ChargeRow, ...], paid: str = "0") -> Totals:
    """The sums of `rows`."""
    lines = [PricedLine(LineKind(row.kind), row.net, (RATE,) if row.taxed else ()) for row in rows]
    return total(lines, TaxBasis.INVOICE, Decimal(paid))


TAG = TagContent(
    shop=SHOP,
    ticket="T1043",
    owner=OWNER,
    machine=MACHINE,
    complaint=COMPLAINT,
    onset="Crept in over a week",
    accessories="guard, shoulder strap",
    condition="Scratched housing; fuel about a month old; guard cracked at one ear",
    taken_in=date(2027, 3, 8),
    promised=date(2027, 3, 13),
    limit=Decimal("120.00"),
    diagnosis_fee=Decimal("30.00"),
    old_parts_back=True,
)

ESTIMATE = EstimateContent(
    shop=SHOP,
    number="E2027-0031",
    ticket="T1043",
    on=date(2027, 3, 9),
    owner=OWNER,
    machine=MACHINE,
    complaint=COMPLAINT,
    found=(
        "The carburettor's needle leaks: it let go at 6 psi, and should hold to 10.",
        "The fuel line is cracked at the tank end.",
        "Compression is good: 126 psi, at least 107 at our altitude.",
    ),
    rows=CHARGES,
    totals=totals(CHARGES),
    most_allowed=Decimal("136.40"),
    if_declined=Decimal("30.00"),
    valid_until=date(2027, 4, 8),
    ready_by=date(2027, 3, 13),
    old_parts_back=True,
)

INVOICE = InvoiceContent(
    shop=SHOP,
    number="2027-0031",
    credits="",
    ticket="T1043",
    on=date(2027, 3, 13),
    owner=OWNER,
    machine=MACHINE,
    complaint=COMPLAINT,
    returned_as_is=False,
    rows=CHARGES,
    totals=totals(CHARGES, "40"),
    approvals=(
        ApprovalRow(
            "Zoë Łukaszewicz-Đặng",
            "by phone (555-0117)",
            "Tue 9 Mar 2027 10:12",
            Decimal("124.00"),
            True,
        ),
    ),
    approved=Decimal("124.00"),
    payments=(PaymentRow(date(2027, 3, 9), "card", Decimal("40.00"), True),),
    warranty_days=90,
    old_parts_back=True,
    tax_exempt_number="",
    reason="",
)

PAID = replace(
    INVOICE,
    payments=(
        *INVOICE.payments,
        PaymentRow(date(2027, 3, 13), "cash", INVOICE.totals.due, False),
    ),
    totals=replace(INVOICE.totals, paid=INVOICE.totals.total, due=Decimal("0.00")),
)

FEE_ONLY = tuple(row for row in CHARGES if row.kind == "fee")
AS_IS = replace(
    INVOICE,
    returned_as_is=True,
    rows=FEE_ONLY,
    totals=totals(FEE_ONLY),
    payments=(),
    approvals=(
        ApprovalRow(
            "Zoë Łukaszewicz-Đặng",
            "at the counter",
            "Wed 10 Mar 2027 16:40",
            Decimal("124.00"),
            False,
        ),
    ),
    approved=Decimal("0.00"),
    tax_exempt_number="EX-77",
)

TAKEN_BACK = tuple(
    replace(row, quantity=-row.quantity, net=-row.net) for row in CHARGES if row.kind == "part"
)
_PARTS = tuple(row for row in CHARGES if row.kind == "part")
CREDIT = replace(
    INVOICE,
    number="C2027-0004",
    credits="2027-0031",
    rows=TAKEN_BACK,
    totals=replace(
        totals(()),
        parts=-totals(_PARTS).parts,
        net=-totals(_PARTS).net,
        taxes=tuple(replace(row, base=-row.base, tax=-row.tax) for row in totals(_PARTS).taxes),
        tax=-totals(_PARTS).tax,
        total=-totals(_PARTS).total,
        due=-totals(_PARTS).total,
    ),
    approvals=(),
    payments=(),
    reason="The kit came under the supplier's warranty.",
)


def found(title: str, before: str, after: str, limit: str, verdict: str, **more: str) -> FoundRow:
    """One thing looked at."""
    return FoundRow(
        title=title,
        before=before,
        after=after,
        limit=limit,
        source=more.get("source", "common practice, no published source"),
        verdict=verdict,
        verdict_after=more.get("verdict_after", "pass" if after else ""),
        clears=more.get("clears", ""),
        rules_out=more.get("rules_out", ""),
        note=more.get("note", ""),
    )


NEXT = (
    UpkeepRow(
        title="Clean the air filter",
        words="Knock the dust out, wash foam in soapy water, dry it, oil it lightly.",
        on=date(2027, 6, 15),
        because="about 25 h of use since March at 2 h a week",
        owner_can=True,
    ),
    UpkeepRow(
        title="Run it dry before winter",
        words="Empty the tank, then run it until it stops. Stale fuel spoiled it this time.",
        on=date(2027, 10, 20),
        because="before storage, every year",
        owner_can=True,
    ),
    UpkeepRow(
        title="Renew the fuel filter and lines",
        words="They harden from the ethanol in the fuel.",
        on=date(2029, 3, 1),
        because="24 months come before the hours",
        owner_can=False,
    ),
)
CAUTIONS = (
    "Fuel only when the engine is off and cool, at least 10 ft from any flame or spark.",
    "Never run the engine indoors: the exhaust can kill without a smell.",
)

SUMMARY = SummaryContent(
    shop=SHOP,
    ticket="T1043",
    on=date(2027, 3, 13),
    owner=OWNER,
    machine=MACHINE,
    complaint=COMPLAINT,
    onset="Crept in over a week.",
    confirmed="Yes: it started cold and died each time the throttle was opened.",
    returned_as_is=False,
    found=(
        found(
            "Spark in a tester",
            "strong, blue",
            "",
            "steady, blue or white",
            "pass",
            clears="spark",
            rules_out="Coil, lead and stop switch make a spark.",
        ),
        found(
            "Compression, 8 pulls",
            "126 psi",
            "127 psi",
            "at least 107 psi (130 at sea level)",
            "pass",
            rules_out="The cylinder holds.",
            source="common practice, scaled by the US Standard Atmosphere 1976",
        ),
        found(
            "Needle pop-off",
            "6 psi",
            "14 psi",
            "10 to 18 psi",
            "fail",
            note="The needle let fuel through long before it should.",
        ),
        found("Air filter", "dusty", "washed", "clean", "marginal"),
        found(
            "Age of the fuel",
            "about 5 weeks",
            "",
            "no older than 30 days",
            "noted",
            note="Old fuel leaves gum.",
        ),
    ),
    done=(
        DoneRow("Carburettor kit fitted", "failed", "The needle leaked at 6 psi, limit 10.", True),
        DoneRow("Fuel line renewed", "worn", "Cracked at the tank end when bent.", True),
        DoneRow(
            "Spark plug renewed",
            "preventive",
            "It came with the kit and is due each spring.",
            False,
        ),
    ),
    not_done=(
        DoneRow("New guard", "cracked at one ear", "It still holds; look at it each time.", False),
    ),
    settings=(
        found("Coil air gap", "0.012 in", "", "0.010 to 0.014 in", "pass"),
        found(
            "Idle speed",
            "2,900 rpm",
            "",
            "2,700 to 3,100 rpm",
            "pass",
            source="shop's own card for this model",
        ),
    ),
    proof=(
        found("Starts cold", "2 pulls", "", "3 pulls or fewer", "pass"),
        found("Cutting head still at idle", "still", "", "must not move", "pass"),
        found("Runs at full speed for 5 minutes", "yes", "", "without dying", "pass"),
    ),
    total=INVOICE.totals.total,
    owed=None,
    next_steps=NEXT,
    cautions=CAUTIONS,
    photos=(),
)

REMINDER = ReminderContent(
    shop=SHOP,
    owner=OWNER,
    machine=MACHINE,
    on=date(2028, 3, 1),
    due=date(2028, 3, 20),
    last_visit=date(2027, 3, 13),
    tasks=tuple(replace(row, on=row.on.replace(year=2028)) for row in NEXT),
    cautions=CAUTIONS,
)

HOT = CautionRow(
    "The muffler burns skin long after the engine stops. Gloves on.", "Forest Service Tech Tip"
)
SPRAY = CautionRow("Loosen the fuel cap first: pressure sprays fuel.", "common practice")
BENCH = BenchSheetContent(
    shop=SHOP,
    ticket="T1043",
    on=date(2027, 3, 9),
    owner=OWNER.name,
    machine=MACHINE,
    complaint=COMPLAINT,
    standing=CautionRow("The maker's manual comes first.", "common practice"),
    checks=(
        BenchCheckRow(
            title="Compression",
            how="At least 8 full pulls, throttle open.",
            tools=("gauge", "14 mm adapter"),
            minutes=Decimal("4.0"),
            limit="at least 107 psi",
            correction="130 psi at sea level, lowered to 107 psi for 1,609 m",
            cautions=(HOT,),
        ),
        BenchCheckRow("Full speed", "Warm, no load.", (), Decimal("2"), "", "", (HOT,)),
    ),
    proving=False,
    teardown=(
        TeardownRow(
            number=1,
            off="Muffler",
            sub_assembly="",
            after="",
            fasteners=("2 × M5 x 20 T27 in cup 3", "1 × M6 nut in cup 3"),
            mark="arrow towards the exhaust",
            routing="plug lead behind the post",
            cautions=(HOT,),
            photos=(),
        ),
        TeardownRow(2, "Needle", "carburettor", "1", (), "", "", (SPRAY,), ()),
        TeardownRow(3, "Spark plug", "", "", (), "", "", (), ()),
    ),
    reassembly=(
        ReassemblyRow(
            number=3,
            words="Fit: Spark plug, set and enter: plug torque",
            care=("Start the plug by hand.",),
            cautions=(),
            fasteners=(),
            setting="plug torque",
            limit="18.0 to 21.6 lbf·ft",
            ticked=False,
            entered="",
            explained="",
        ),
        ReassemblyRow(2, "Fit: Needle", (), (SPRAY,), (), "", "", False, "", ""),
        ReassemblyRow(
            number=1,
            words="Fit: Muffler",
            care=("Different lengths: each goes back into the hole it came from.",),
            cautions=(HOT,),
            fasteners=("2 × M5 x 20 T27 from cup 3", "1 × M6 nut from cup 3"),
            setting="",
            limit="",
            ticked=False,
            entered="",
            explained="",
        ),
    ),
)


def with_photos(files: list[Path]) -> SummaryContent:
    """The summary with one photo for each file."""
    return replace(
        SUMMARY,
        photos=tuple(
            PhotoOnPaper(file, f"Photo {n}: {file.stem}") for n, file in enumerate(files, 1)
        ),
    )
