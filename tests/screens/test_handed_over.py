"""The phone turned to the client: the client's questions, and nothing else of the salon."""

from cleared import LEAST_CAUTION, answer
from playwright.sync_api import expect
from test_service import Service

# What each question says to the client, and the answer with the least caution.
TO_CLIENT = {
    "Are you 18 or over?": "Yes",
    "Has hair colour ever given you a reaction, even a mild one?": "No, never",
    "Have you ever had a temporary black tattoo?": "Never",
    "Do you have an allergy to dye, or think you might?": "No",
    "Have you had chemotherapy, now or before?": "None",
    "What was done to your hair before?": "Nothing of these",
}


def handed(visit, name="Wren Aldous"):
    service = Service(visit()).open().of_a_new_client(name)
    service.tap(service.page.locator("#safety .fold-line"))
    return service.button("Hand phone to client")


def question(service):
    return service.page.get_by_role("region", name="Question").get_by_role("heading")


def answered(service, answers=TO_CLIENT):
    """Answers all of the client's questions; returns what was asked."""
    page, asked = service.page, []
    thanks = page.get_by_role("heading", name="Thank you")
    checking = page.locator(".handed .safety-answer[aria-pressed=true]")
    while True:
        expect(checking).to_have_count(0)
        expect(question(service).or_(thanks)).to_be_visible()
        if thanks.is_visible():
            return asked
        words = question(service).inner_text()
        this = page.get_by_role("region", name="Question").filter(
            has=page.get_by_role("heading", name=words, exact=True)
        )
        if answer(this, words, service.tap, answers):
            asked.append(words)


def hand_back(service):
    # As keys do: a press, then the press that it asks for.
    service.page.get_by_role("button", name="Hold to hand back").press("Enter")
    service.page.get_by_role("button", name="Press again to hand back").press("Enter")


def test_a_client_answers_her_own_questions_in_her_words_and_hands_the_phone_back(visit):
    service = handed(visit)
    asked = answered(service)
    assert set(asked) == set(TO_CLIENT)
    hand_back(service)
    # The colourist's questions are left, all together.
    expect(service.page.get_by_role("region", name="Looked at today")).to_be_visible()
    expect(service.page.get_by_role("button", name="Hand phone to client")).to_have_count(0)
    kept = [op["fields"] for op in service.records("outbox") if op["kind"] == "client.set"]
    said = {key: answer for fields in kept for key, answer in fields.items() if "." in key}
    assert said["answers.chemo"]["asked"] == "Have you had chemotherapy, now or before?"


def test_nothing_of_the_salon_is_reachable_while_the_client_has_the_phone(visit):
    service = handed(visit)
    page = service.page
    expect(question(service)).to_be_visible()
    for place in ("today", "clients", "formulas", "settings", "desk"):
        page.goto(f"{service.visit.address}/#/{place}")
        expect(question(service)).to_be_visible()
        expect(page.get_by_role("link")).to_have_count(0)
        expect(page.get_by_text("Wren Aldous")).to_have_count(0)
    page.reload()
    expect(question(service)).to_be_visible()
    expect(page.get_by_role("link")).to_have_count(0)
    # A tap that is no hold hands nothing back.
    page.get_by_role("button", name="Hold to hand back").tap()
    expect(question(service)).to_be_visible()
    hand_back(service)
    expect(page.get_by_role("heading", name="Basinside")).to_be_visible()


def test_what_a_client_would_rather_say_is_left_for_the_colourist(visit):
    service = handed(visit)
    words = question(service).inner_text()
    service.button("I would rather say it")
    expect(question(service)).not_to_have_text(words)
    answered(service)
    hand_back(service)
    expect(service.page.get_by_text("For the client: the last question")).to_be_visible()


def test_the_client_s_questions_come_together_before_the_colourist_s(visit):
    service = Service(visit()).open().of_a_new_client()
    page = service.page
    service.tap(page.locator("#safety .fold-line"))
    asking = page.locator(".safety[data-asks='yes']")
    whose = []
    while len(whose) < len(TO_CLIENT):
        found = asking.get_by_role("region", name="Question")
        expect(found).to_be_visible()
        # The rules may ask something else by the time it is answered: then it is read again.
        for words in found.get_by_role("heading").all_inner_texts():
            this = found.filter(has=page.get_by_role("heading", name=words, exact=True))
            of = this.locator(".quiet").all_inner_texts()
            if of and answer(this, words, service.tap, LEAST_CAUTION):
                whose.append(of[0].split(":")[0])
    assert whose == ["For the client"] * len(TO_CLIENT)
    expect(page.get_by_role("button", name="Hand phone to client")).to_have_count(0)
