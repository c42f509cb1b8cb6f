"""Cases of one call, drawn from the document, the same ones in each run."""

from hypothesis import HealthCheck, Phase, given, settings


def each_case(operation, mode, cases, ask):
    """Draw the cases of a call in one mode, and ask each."""

    @given(case=operation.as_strategy(generation_mode=mode))
    @settings(
        max_examples=cases,
        deadline=None,
        database=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def drawn(case):
        ask(case)

    drawn()
