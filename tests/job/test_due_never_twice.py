"""Whatever the order of runs, answers, repairs and moves: nobody is told twice of one thing."""

import tempfile
from collections import Counter
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from shopdesk.errors import JobError
from shopdesk.job.customers import change_customer
from shopdesk.job.due_content import content_of
from shopdesk.job.due_list import due_list
from shopdesk.job.due_messages import ENDS, say_ended, say_upkeep_sent, write_again, write_to
from shopdesk.job.messages import WAYS, State, drop_message, say_answered, say_undelivered
from shopdesk.job.upkeep_done import DoneEntry, say_done
from shopdesk.records.tables import Customer, Message
from tests.job.due_shop import MOWER, at_home, neighbour
from tests.job.workshop import OWNER, Clock, open_shop

UNHEARD = {State.DROPPED, State.CAME_BACK}
TASKS = ("spark-plug", "air-filter", "fresh-fuel", "cooling-fins")

which = st.integers(0, 5)
happenings = st.one_of(
    st.tuples(st.just("days"), st.sampled_from([1, 20, 40, 120, 300])),
    st.tuples(st.just("run"), st.sampled_from([0, 30, 90])),
    st.tuples(st.just("run"), st.sampled_from([0, 30, 90])),
    st.tuples(st.just("sent"), which),
    st.tuples(st.just("answered"), which),
    st.tuples(st.just("came back"), which),
    st.tuples(st.just("dropped"), which),
    st.tuples(st.just("again"), which),
    st.tuples(st.just("ended"), which),
    st.tuples(st.just("done"), which),
    st.tuples(st.just("brought in"), which),
    st.tuples(st.just("new address"), which),
)


class Town:
    """Two owners with three machines, and two desks with one file."""

    def __init__(self, folder: Path) -> None:
        self.clock = Clock()
        self.desk = open_shop(folder, self.clock)
        self.tickets = [at_home(self.desk), neighbour(self.desk, 2)]
        self.tickets.append(at_home(self.desk, self.tickets[0].owner.id, MOWER))
        self.told_at_desk = {owner: due_list(self.desk, self.desk.today) for owner in (0, 1)}

    def happens(self, what: str, number: int) -> None:
        """Let one thing happen; what the job refuses is refused."""
        if what == "days":
            self.clock.forward(number)
        elif what == "run":
            self._run(number)
        else:
            try:
                self._one(what, number)
            except JobError:
                return

    def _run(self, days: int) -> None:
        """Write to all on the list as it is, then to all on one that is older."""
        by = self.desk.today + timedelta(days=days)
        for owner in (*due_list(self.desk, by), *self.told_at_desk[1]):
            try:
                write_to(self.desk, owner.customer_id, by)
            except JobError:
                continue
        self.told_at_desk[1] = due_list(self.desk, by + timedelta(days=60))

    def _one(self, what: str, number: int) -> None:
        desk, ticket = self.desk, self.tickets[number % len(self.tickets)]
        if what == "done":
            say_done(desk, ticket.unit.id, DoneEntry(TASKS[number % len(TASKS)]))
        elif what == "brought in":
            at_home(desk, ticket.owner.id, ticket.unit.id)
        elif what == "new address":
            address = f"{self.desk.today.toordinal()} New Lane\nFernhollow"
            way = WAYS[number % len(WAYS)]
            change_customer(
                desk, self.tickets[0].owner.id, replace(OWNER, address=address, preferred_way=way)
            )
        else:
            self._to_message(what, number)

    def _to_message(self, what: str, number: int) -> None:
        desk, messages = self.desk, self.messages()
        if not messages:
            return
        chosen = messages[number % len(messages)].id
        if what == "sent":
            say_upkeep_sent(desk, [chosen])
        elif what == "answered":
            say_answered(desk, chosen, "will see")
        elif what == "came back":
            say_undelivered(desk, chosen)
        elif what == "dropped":
            drop_message(desk, chosen, "a slip")
        elif what == "again":
            write_again(desk, chosen)
        else:
            say_ended(desk, chosen, ENDS[number % len(ENDS)])

    def messages(self) -> list[Message]:
        with self.desk.records.reading():
            return list(Message.select().order_by(Message.id))

    def silent(self) -> set[int]:
        """The owners that nothing may go to."""
        with self.desk.records.reading():
            return {row.id for row in Customer.select() if row.moved_away or not row.may_remind}


def told(town: Town) -> Counter[tuple[int, str, bool]]:
    """How often each owner heard of each round, in first and in second messages."""
    heard: Counter[tuple[int, str, bool]] = Counter()
    for row in town.messages():
        content = content_of(row)
        if row.state not in UNHEARD:
            heard.update((row.customer_id, one, content.again) for one in content.rounds)
    return heard


@settings(max_examples=40, deadline=None)
@given(happened=st.lists(happenings, min_size=4, max_size=16))
@example([("run", 90), ("came back", 0), ("run", 90), ("answered", 0)])
@example([("run", 90), ("sent", 0), ("days", 40), ("again", 0), ("days", 40), ("again", 0)])
@example([("run", 90), ("dropped", 0), ("run", 90), ("sent", 0), ("brought in", 0), ("run", 90)])
def test_nobody_is_told_twice_of_the_same_round(happened: list[tuple[str, int]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        town = Town(Path(folder))
        town.clock.forward(300)
        for what, number in happened:
            quiet, before = town.silent(), len(town.messages())
            town.happens(what, number)
            assert [row for row in town.messages()[before:] if row.customer_id in quiet] == []
            assert all(times == 1 for times in told(town).values())
        town.desk.records.close()
