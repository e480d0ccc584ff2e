"""Tells how the machine is mended and proved, goes home, is paid for, and is remembered."""

from collections.abc import Iterator
from datetime import timedelta

from shopdesk.dates import show_date
from shopdesk.demo.agreeing import line_entry
from shopdesk.demo.bringing import record
from shopdesk.demo.clock import Wait
from shopdesk.demo.told import Told
from shopdesk.job.after import make_reminder, set_reminder_state
from shopdesk.job.lines import change_line
from shopdesk.job.moving import go_on
from shopdesk.job.opened import open_ticket
from shopdesk.job.payments import take_payment
from shopdesk.job.pickup import (
    agree_balance,
    close_unfetched,
    credit_invoice,
    hand_over,
    issue_invoice,
    tell_ready,
)
from shopdesk.job.repair import do_line
from shopdesk.job.stages import Stage
from shopdesk.job.standing import PROOF, SETTING
from shopdesk.job.views import LineView
from shopdesk.pricing.money import show_money
from shopdesk.pricing.totals import LineKind

PAID_BY = ("card", "card", "card", "cash", "cash", "cheque")
