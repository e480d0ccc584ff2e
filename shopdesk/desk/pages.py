"""The pages of a ticket: the steps of the job in their order, then what goes with any of them."""

from shopdesk.desk.approval_page import ApprovalPage
from shopdesk.desk.buying.page import BuyingPage
from shopdesk.desk.diagnosis_page import DiagnosisPage
from shopdesk.desk.intake_page import IntakePage
from shopdesk.desk.model_page import ModelPage
from shopdesk.desk.options.page import OptionsPage
from shopdesk.desk.page import Page
from shopdesk.desk.pickup_page import PickupPage
from shopdesk.desk.repair_page import RepairPage
from shopdesk.desk.teardown_page import TeardownPage

PAGES: tuple[type[Page], ...] = (
    IntakePage,
    DiagnosisPage,
    ApprovalPage,
    RepairPage,
    PickupPage,
    TeardownPage,
    ModelPage,
    OptionsPage,
    BuyingPage,
)
