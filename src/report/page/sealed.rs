//! What seals a page: digests by which its security policy knows its own script and style, and base64 for what is embedded.
//!
//! A browser runs and applies only what has the digest that the policy names, so that nothing a project holds can become a script,
//! even where a text came through unescaped.

/// Fractional parts of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2).
const ROUNDS: [u32; 64] = [
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5, 0xd807aa98,
    0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174, 0xe49b69c1, 0xefbe4786,
    0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da, 0x983e5152, 0xa831c66d, 0xb00327c8,
    0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967, 0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13,
    0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819,
    0xd6990624, 0xf40e3585, 0x106aa070, 0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a,
    0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7,
    0xc67178f2,
];

/// Fractional parts of the square roots of the first eight primes (FIPS 180-4, 5.3.3).
const START: [u32; 8] =
    [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19];

/// The digest of a text as a security policy names it: `sha256-…`.
pub(super) fn digest(text: &str) -> String {
    format!("sha256-{}", base64(&sha256(text.as_bytes())))
}

/// SHA-256 (FIPS 180-4, 6.2).
fn sha256(bytes: &[u8]) -> [u8; 32] {
    let mut padded = bytes.to_vec();
    padded.push(0x80);
    padded.resize(padded.len().next_multiple_of(64), 0);
    if bytes.len() % 64 >= 56 {
        padded.resize(padded.len() + 64, 0);
    }
    let end = padded.len() - 8;
    padded[end..].copy_from_slice(&(bytes.len() as u64 * 8).to_be_bytes());
    let mut hash = START;
    for block in padded.chunks_exact(64) {
        let mut words = [0_u32; 64];
        for (word, four) in words.iter_mut().zip(block.chunks_exact(4)) {
            *word = four.iter().fold(0, |word, byte| word << 8 | u32::from(*byte));
        }
        for at in 16..64 {
            let (early, late) = (words[at - 15], words[at - 2]);
            let near = early.rotate_right(7) ^ early.rotate_right(18) ^ early >> 3;
            let far = late.rotate_right(17) ^ late.rotate_right(19) ^ late >> 10;
            words[at] = words[at - 16].wrapping_add(near).wrapping_add(words[at - 7]).wrapping_add(far);
        }
        let [mut a, mut b, mut c, mut d, mut e, mut f, mut g, mut h] = hash;
        for (constant, word) in ROUNDS.iter().zip(words) {
            let mixed = e.rotate_right(6) ^ e.rotate_right(11) ^ e.rotate_right(25);
            let chosen = e & f ^ !e & g;
            let first = h.wrapping_add(mixed).wrapping_add(chosen).wrapping_add(*constant).wrapping_add(word);
            let turned = a.rotate_right(2) ^ a.rotate_right(13) ^ a.rotate_right(22);
            let majority = a & b ^ a & c ^ b & c;
            (h, g, f, e, d, c, b) = (g, f, e, d.wrapping_add(first), c, b, a);
            a = first.wrapping_add(turned).wrapping_add(majority);
        }
        for (sum, value) in hash.iter_mut().zip([a, b, c, d, e, f, g, h]) {
            *sum = sum.wrapping_add(value);
        }
    }
    let mut bytes = [0; 32];
    for (four, word) in bytes.chunks_exact_mut(4).zip(hash) {
        four.copy_from_slice(&word.to_be_bytes());
    }
    bytes
}

/// Base64 with padding (RFC 4648, 4).
pub(super) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let all = (0..3).fold(0_u32, |all, at| all << 8 | u32::from(three.get(at).copied().unwrap_or(0)));
        for place in 0..4 {
            let letter = char::from(LETTERS[(all >> (18 - 6 * place) & 63) as usize]);
            text.push(if place <= three.len() { letter } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hexadecimal(bytes: &[u8]) -> String {
        bytes.iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// Examples of FIPS 180-4 as NIST publishes them (from memory): one block, none, two blocks.
    #[test]
    fn digests_are_those_of_the_standard() {
        for (text, digest) in [
            ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
            ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
            (
                "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
            ),
        ] {
            assert_eq!(hexadecimal(&sha256(text.as_bytes())), digest);
        }
    }

    /// The test vectors of RFC 4648, section 10.
    #[test]
    fn base64_is_that_of_the_standard() {
        for (bytes, text) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }
}
