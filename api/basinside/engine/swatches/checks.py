"""What a question about swatches must mean before it can be answered, with every place."""

from collections.abc import Sequence

from ...contract.products import Product
from ...contract.swatches import Swatch
from ..meaning import Shelf, check_hair, check_mix
from ..products.tones import CLEAR
from ..refusal import Faults

MOST_PRODUCTS = 40


def check_swatches(swatches: Sequence[Swatch], shelf: Shelf, faults: Faults) -> None:
    """Note every swatch that cannot be what it says."""
    seen: set[str] = set()
    used: set[str] = set()
    for i, swatch in enumerate(swatches):
        at = f"/swatches/{i}"
        if swatch.id in seen:
            faults.add(
                f"{at}/id", f"Two swatches have the id “{swatch.id}”. Give each one of its own."
            )
        seen.add(swatch.id)
        _check_hair(swatch, at, shelf, faults)
        check_mix(swatch.mix, f"{at}/mix", shelf, faults)
        _check_after(swatch, at, shelf, faults)
        used |= {part.product for part in swatch.mix.parts}
    check_count([shelf[name] for name in sorted(used) if name in shelf], "/swatches", faults)


def check_count(products: Sequence[Product], at: str, faults: Faults) -> None:
    """Note when there are more products with dye than one fit takes."""
    dyed = sum(CLEAR not in product.tone for product in products)
    if dyed > MOST_PRODUCTS:
        faults.add(
            at,
            f"{dyed} products with dye are too many at once; {MOST_PRODUCTS} is the most. Send one"
            " line at a time.",
        )


def _check_hair(swatch: Swatch, at: str, shelf: Shelf, faults: Faults) -> None:
    check_hair(swatch.hair, f"{at}/hair", shelf, faults)
    if swatch.hair.also:
        faults.add(
            f"{at}/hair/also",
            "A swatch is one piece of hair. Leave other hair out, or send it as another swatch.",
        )
    if swatch.of == "swatch_hair" and swatch.hair.reading is None:
        faults.add(
            f"{at}/hair/reading",
            "Swatch hair is known by its bare end. Read that end dry and send the colour as the"
            " hair’s reading.",
        )


def _check_after(swatch: Swatch, at: str, shelf: Shelf, faults: Faults) -> None:
    after = swatch.after
    if after.where != "dried":
        faults.add(
            f"{at}/after/where",
            f"A swatch is read rinsed and dried; got “{after.where}”. Dry it and read it again.",
        )
    if after.lab is None:
        faults.add(
            f"{at}/after/lab",
            "There is no measured colour. Send the dried swatch’s Lab; a word is not enough.",
        )
    elif after.words is not None:
        faults.add(f"{at}/after/words", "A swatch’s reading is a Lab alone. Leave the word out.")
    windows = [shelf[p.product].window.max for p in swatch.mix.parts if p.product in shelf]
    if windows and after.minute > min(windows):
        faults.add(
            f"{at}/after/minute",
            f"The leaflet allows {min(windows)} minutes at most; got {after.minute}. Say the minute"
            " at which it was rinsed.",
        )
