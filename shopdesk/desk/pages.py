"""The pages of a ticket, in the order of the job."""

from shopdesk.desk.intake_page import IntakePage
from shopdesk.desk.page import Page

PAGES: tuple[type[Page], ...] = (IntakePage,)
