"""The pages of a ticket, in the order of the job."""

from shopdesk.desk.approval_page import ApprovalPage
from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.intake_page import IntakePage
from shopdesk.desk.page import Page
from shopdesk.desk.pickup_page import PickupPage
from shopdesk.desk.repair_page import RepairPage

PAGES: tuple[type[Page], ...] = (
    IntakePage,
    DiagnosisPage,
    ApprovalPage,
    RepairPage,
    PickupPage,
)
