"""What a card says before it is opened: its class, what white hair does, a stronger developer."""

from playwright.sync_api import expect


def test_a_card_names_its_class(visit):
    shown = visit().to_the_mix("pearl")
    expect(shown.cards.first).to_be_attached()
    named = shown.page.locator(".card-text").all_inner_texts()
    assert any("acid demi: " in card for card in named)
    assert any("permanent: " in card for card in named)
    assert not any("white" in card for card in named)


def test_a_card_says_of_white_hair_and_of_a_stronger_developer(visit):
    shown = visit().open()
    shown.unfold("More about this hair")
    shown.radio("left natural", "Before this mix it was").click()
    for _ in range(5):
        shown.page.get_by_role("button", name="more white", exact=True).click()
    shown.page.get_by_role("radio", name="level 7, natural, usual", exact=True).click()
    shown.to_the_wish().radio("beige", "Tone").click()
    shown.page.get_by_role("button", name="half a level lighter", exact=True).click()
    shown.page.get_by_role("button", name="half a level lighter", exact=True).click()
    shown.button("What to mix").click()
    expect(shown.cards.first).to_be_attached()
    first = shown.page.locator(".card-text").first
    expect(first).to_contain_text("permanent, covers white: ")
    expect(first).to_contain_text("12 % lifts 1 level more, and is harder on skin and hair.")
    expect(shown.page.get_by_text("permanent, blends white: ").first).to_be_visible()
