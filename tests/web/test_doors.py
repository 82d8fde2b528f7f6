"""Who comes in, and how often."""

from coach.web.doors import Allowance, Door, new_code, same_origin


def test_the_code_is_taken_however_it_is_typed() -> None:
    door = Door("ABC234")
    assert [door.refusal(code, "here", 0.0) for code in ("ABC234", " abc 234 ", "abc-234")] == [None] * 3
    assert door.refusal("ABC23", "here", 0.0)
    assert door.refusal("ÄBC234", "here", 0.0)


def test_codes_differ() -> None:
    codes = {new_code() for _ in range(50)}
    assert len(codes) == 50 and all(len(code) == 6 for code in codes)


def test_after_ten_wrong_codes_even_the_right_one_waits_a_minute() -> None:
    door = Door("ABC234")
    for _ in range(10):
        assert "not the join code" in str(door.refusal("WRONG2", "there", 0.0))
    assert "Wait" in str(door.refusal("ABC234", "there", 1.0))
    assert door.refusal("ABC234", "here", 1.0) is None
    assert door.refusal("ABC234", "there", 61.0) is None


def test_many_addresses_together_try_no_faster() -> None:
    door = Door("ABC234")
    told = [door.refusal("WRONG2", f"address {number}", 0.0) for number in range(101)]
    assert "not the join code" in str(told[99]) and "Wait" in str(told[100])


def test_an_allowance_refills_up_to_its_reserve() -> None:
    allowance = Allowance(10.0, 3.0)
    assert [allowance.take(0.0) for _ in range(4)] == [True, True, True, False]
    assert [allowance.take(0.1) for _ in range(2)] == [True, False]
    assert [allowance.take(99.0) for _ in range(4)] == [True, True, True, False]


def test_only_a_page_of_this_server_opens_a_socket() -> None:
    assert same_origin("http://localhost:8440", "localhost:8440")
    assert same_origin("https://Coach.example", "coach.example")
    for origin in (None, "null", "", "http://localhost:8441", "http://elsewhere.example", "http://[broken"):
        assert not same_origin(origin, "localhost:8440")
    assert not same_origin("http://localhost:8440", None)
