"""What a question must mean before it can be answered: every place that does not, in words."""

from collections.abc import Sequence

from msgspec import UNSET

from ..contract.hair import Hair
from ..contract.mixes import Mix
from ..contract.products import Product
from ..contract.wishes import Wish
from .hair.unsure import contradicts_itself
from .products.classes import CLASSES
from .products.developer import common_percents, usual_ratio
from .products.known import known_contradicts_itself
from .products.tones import CLEAR, PRODUCT_TONES, WISH_TONES, unknown_words
from .refusal import Faults

Shelf = dict[str, Product]
_Parts = Sequence[tuple[Product, float]]  # product, grams


def may_share_a_bowl(first: Product, second: Product) -> bool:
    """Return whether two products' leaflets allow them in one bowl.

    One class, and one line unless each line names the other.
    """
    if first.class_ != second.class_:
        return False
    return first.line == second.line or (
        second.line in first.may_mix_with and first.line in second.may_mix_with
    )


def shelf_of(products: Sequence[Product], faults: Faults) -> Shelf:
    """Return the products by id, noting every product that cannot be what it says."""
    shelf: Shelf = {}
    for i, product in enumerate(products):
        at = f"/products/{i}"
        if product.id in shelf:
            faults.add(f"{at}/id", f"Two products have the id “{product.id}”. Give each its own.")
        shelf[product.id] = product
        if product.window.min > product.window.max:
            faults.add(
                f"{at}/window",
                f"The window runs from {product.window.min} to {product.window.max} minutes."
                " Its earliest minute must not come after its latest.",
            )
        _check_product_tone(product, f"{at}/tone", faults)
        _check_product_developer(product, at, faults)
        if product.known is not UNSET and known_contradicts_itself(product.known):
            faults.add(
                f"{at}/known/correlations",
                "No product could be unsure in this way: the correlations are too many or too few,"
                " or contradict one another. Send `known` as a calibration gave it, or not at all.",
            )
    return shelf


def _check_product_tone(product: Product, at: str, faults: Faults) -> None:
    if CLEAR in product.tone:
        if len(product.tone) > 1:
            faults.add(at, "“clear” means no dye and stands alone. Take the other word away.")
        elif product.dyes is not None and any(
            getattr(product.dyes, name) for name in product.dyes.__struct_fields__
        ):
            faults.add(at, "A clear product holds no dye. Take `dyes` away, or name its tone.")
        return
    for word in unknown_words(PRODUCT_TONES, product.tone):
        known = ", ".join((*PRODUCT_TONES, CLEAR))
        faults.add(at, f"“{word}” is not a tone word here. Use one of: {known}.")


def _check_product_developer(product: Product, at: str, faults: Faults) -> None:
    if product.class_ == "direct":
        if product.mix_ratio:
            faults.add(f"{at}/mix_ratio", "A direct dye takes no developer. Its mix_ratio is 0.")
        if product.developer_percent:
            faults.add(
                f"{at}/developer_percent",
                "A direct dye takes no developer. Leave developer_percent empty.",
            )
    elif usual_ratio(product) > 0 and not product.developer_percent:
        title = CLASSES[product.class_].title
        faults.add(
            f"{at}/developer_percent",
            f"A product of class {title} works with developer. Give the strengths, in percent,"
            " that its leaflet allows.",
        )


def check_hair(hair: Hair, at: str, shelf: Shelf, faults: Faults, nested: bool = False) -> None:
    """Note everything about a head of hair that contradicts itself."""
    if hair.reading is not None and hair.already_on:
        faults.add(
            f"{at}/reading",
            "A reading tells level and warmth of bare hair only. Leave out either the reading"
            " or what is already on.",
        )
    if hair.level is None and hair.reading is None:
        faults.add(f"{at}/level", "Say the hair's level, 1 to 10.5, or give a reading of it.")
    if contradicts_itself(hair.sure):
        faults.add(
            f"{at}/sure/correlations",
            "No hair could be unsure in this way: these correlations contradict one another."
            " Send them as a judgement gave them, or leave them out.",
        )
    for i, mix in enumerate(hair.already_on):
        check_mix(mix, f"{at}/already_on/{i}", shelf, faults, over=True)
    if nested and hair.also:
        faults.add(f"{at}/also", "Other hair has no other hair of its own. List it one step up.")
        return
    if sum(other.share for other in hair.also) >= 1:
        faults.add(
            f"{at}/also",
            "The shares of the other hair come to 1 or more. Leave some for the hair itself.",
        )
    for i, other in enumerate(hair.also):
        check_hair(other.hair, f"{at}/also/{i}/hair", shelf, faults, nested=True)


def check_wish(wish: Wish, at: str, faults: Faults) -> None:
    """Note what keeps a wish from being one colour."""
    by_words = wish.level is not None or wish.tone is not None
    if wish.lab is not None:
        if by_words:
            faults.add(at, "Give the wish either as a Lab or as level and tone words, not both.")
        return
    if wish.level is None:
        faults.add(f"{at}/level", "Say the level wished for, 1 to 10.5, or give the wish as a Lab.")
    if wish.tone is None:
        faults.add(f"{at}/tone", "Say the tone wished for in one or two words, or give a Lab.")
    for word in unknown_words(WISH_TONES, wish.tone or ()):
        known = ", ".join(WISH_TONES)
        faults.add(f"{at}/tone", f"“{word}” is not a wish word here. Use one of: {known}.")


def check_mix(mix: Mix, at: str, shelf: Shelf, faults: Faults, over: bool = False) -> None:
    """Note why a mix cannot be one bowl. `over` is a mix long rinsed: its minutes are a fact."""
    parts: list[tuple[Product, float]] = []
    for i, part in enumerate(mix.parts):
        if part.product not in shelf:
            faults.add(
                f"{at}/parts/{i}/product",
                f"“{part.product}” is not among the products sent. Send it along.",
            )
        else:
            parts.append((shelf[part.product], part.grams))
    if len(parts) < len(mix.parts):
        return
    if not _one_bowl(parts, at, faults):
        return
    _check_mix_developer(mix, parts, at, faults)
    longest = min(product.window.max for product, _ in parts)
    if not over and mix.minutes > longest:
        faults.add(
            f"{at}/minutes",
            f"The leaflet allows {longest} minutes at most; got {mix.minutes}."
            " Never leave a product on longer than its maker says.",
        )


def _one_bowl(parts: _Parts, at: str, faults: Faults) -> bool:
    first = parts[0][0]
    fits = True
    for i, (product, _) in enumerate(parts):
        against = next((p for p, _ in parts[:i] if not may_share_a_bowl(p, product)), None)
        if against is None:
            continue
        fits = False
        if against.class_ != product.class_:
            why = f"{product.name} is {CLASSES[product.class_].title}, {first.name} is not."
            faults.add(f"{at}/parts/{i}", f"{why} One bowl holds one class.")
        else:
            faults.add(
                f"{at}/parts/{i}",
                f"{product.line} and {against.line} are different lines. They go into one bowl"
                " only when each line's leaflet names the other (may_mix_with).",
            )
    return fits


def _check_mix_developer(mix: Mix, parts: _Parts, at: str, faults: Faults) -> None:
    takes_none = all(usual_ratio(product) == 0 for product, _ in parts)
    if mix.developer is not None:
        if takes_none and mix.developer.grams > 0:
            faults.add(f"{at}/developer", "These products take no developer. Leave it out.")
    elif not takes_none and not common_percents([product for product, _ in parts]):
        faults.add(
            f"{at}/developer",
            "These products have no developer strength in common. Say which developer, in"
            " percent and grams, or choose parts that share one.",
        )
