from app.storage.people.keys import hash_of, new_key


def test_a_key_holds_256_bits_and_no_two_are_alike() -> None:
    keys = {new_key() for _ in range(100)}
    assert len(keys) == 100
    assert all(len(key) >= 43 for key in keys)


def test_what_is_kept_of_a_key_is_not_the_key() -> None:
    key = new_key()
    assert hash_of(key) == hash_of(key) != hash_of(key + "x")
    assert key not in hash_of(key)
    assert len(hash_of(key)) == 64
