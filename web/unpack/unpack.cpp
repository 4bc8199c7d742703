#include "web/unpack/unpack.hpp"

#include <algorithm>
#include <iterator>

namespace hangtime::unpack {
namespace {

using Byte = unsigned char;
using Word = std::uint32_t;

// The bits behind the signs, in the place of the signs. Returns how many bytes there are.
std::size_t bytes_of(Byte* text, std::size_t length) {
    Byte* to = text;
    Word held = 0, first = 93;
    int bits = 0;
    for (std::size_t i = 0; i < length; ++i) {
        const Word sign = text[i];
        if (sign < 33 || sign > 126)
            continue;
        const Word digit = sign < '<' ? sign - 33 : sign - 34;
        if (first == 93) {
            first = digit;
            continue;
        }
        held |= (first * 93 + digit) << bits;
        first = 93;
        for (bits += 13; bits > 7; bits -= 8) {
            *to++ = static_cast<Byte>(held);
            held >>= 8;
        }
    }
    return static_cast<std::size_t>(to - text);
}

// Where the chances lie; `state` (0..11) says what the last few steps were.
enum Place : Word {
    is_match = 0, // by state, as the next ones
    is_repeat = 12,
    is_repeat_0 = 24,
    is_repeat_1 = 36,
    is_repeat_2 = 48,
    is_long_repeat_0 = 60,
    distance_slots = 72, // 4 trees of 64
    near_bits = 328,     // of the distances below 128
    align_bits = 448,
    lengths = 464, // 2, then 2 trees of 8 and one of 256
    repeat_lengths = 992,
    literals = 2048, // 8 trees, by the upper bits of the byte before, each thrice
    places = literals + 8 * 0x300,
};

// Adaptive binary range coding. A chance is that of a 0, in 2048ths.
struct Bits {
    const Byte* at;
    const Byte* end;
    Word range = 0xffffffff, code = 0;
    std::uint16_t chances[places];

    // Inlined where most of the time goes, in literals and trees: it runs before any browser optimises it.
    [[gnu::always_inline]] void refill() {
        if (range < 1u << 24) {
            range <<= 8;
            code = code << 8 | (at < end ? *at++ : 0);
        }
    }
    [[gnu::always_inline]] Word bit_here(Word place) {
        std::uint16_t& chance = chances[place];
        const Word bound = (range >> 11) * chance;
        const bool is = code >= bound;
        if (is) {
            range -= bound;
            code -= bound;
            chance = static_cast<std::uint16_t>(chance - (chance >> 5));
        } else {
            range = bound;
            chance = static_cast<std::uint16_t>(chance + ((2048 - chance) >> 5));
        }
        refill();
        return is;
    }
    [[gnu::noinline]] Word bit(Word place) { return bit_here(place); }
    [[gnu::noinline]] Word tree(Word place, int bits) {
        Word node = 1;
        while (node >> bits == 0)
            node = node << 1 | bit_here(place + node);
        return node - (1u << bits);
    }
    Word tree_from_below(Word place, int bits) {
        Word node = 1, value = 0;
        for (int i = 0; i < bits; ++i) {
            const Word is = bit(place + node);
            node = node << 1 | is;
            value |= is << i;
        }
        return value;
    }
    Word even(int bits) {
        Word value = 0;
        for (; bits > 0; --bits) {
            range >>= 1;
            const Word is = code >= range;
            if (is != 0)
                code -= range;
            value = value << 1 | is;
            refill();
        }
        return value;
    }
    Word length(Word place) {
        if (bit(place) == 0)
            return 2 + tree(place + 2, 3);
        if (bit(place + 1) == 0)
            return 10 + tree(place + 10, 3);
        return 18 + tree(place + 18, 8);
    }
    Word distance(Word length) {
        const Word slot = tree(distance_slots + 64 * std::min<Word>(length - 2, 3), 6);
        if (slot < 4)
            return slot;
        const int bits = static_cast<int>(slot >> 1) - 1;
        const Word start = (2 | (slot & 1)) << bits;
        if (slot < 14)
            return start + tree_from_below(near_bits + start - slot, bits);
        const Word upper = even(bits - 4) << 4;
        return start + upper + tree_from_below(align_bits, 4);
    }
};

void expand(Bits& in, Byte* out, std::size_t size) {
    std::size_t filled = 0;
    Word state = 0, back_0 = 0, back_1 = 0, back_2 = 0, back_3 = 0; // distances less one
    while (filled < size) {
        if (in.bit(is_match + state) == 0) {
            const Word place = literals + 0x300 * (filled > 0 ? out[filled - 1] >> 5u : 0u);
            Word node = 1;
            if (state > 6) {
                // After a copy: the byte that would have followed in it tells what this one is not.
                Word would = out[filled - back_0 - 1], offset = 0x100;
                while (node < 0x100) {
                    would <<= 1;
                    const Word expected = would & offset;
                    const Word is = in.bit_here(place + offset + expected + node);
                    node = node << 1 | is;
                    offset = is != 0 ? expected : offset & ~expected;
                }
            } else {
                while (node < 0x100)
                    node = node << 1 | in.bit_here(place + node);
            }
            out[filled++] = static_cast<Byte>(node);
            state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
            continue;
        }
        Word length = 0;
        const Word was = state;
        if (in.bit(is_repeat + was) == 0) {
            state = was < 7 ? 7 : 10;
            back_3 = back_2;
            back_2 = back_1;
            back_1 = back_0;
            length = in.length(lengths);
            back_0 = in.distance(length);
        } else {
            state = was < 7 ? 8 : 11;
            if (in.bit(is_repeat_0 + was) == 0) {
                if (in.bit(is_long_repeat_0 + was) == 0) {
                    state = was < 7 ? 9 : 11;
                    length = 1;
                }
            } else {
                Word distance = back_1;
                if (in.bit(is_repeat_1 + was) != 0) {
                    distance = back_2;
                    if (in.bit(is_repeat_2 + was) != 0) {
                        distance = back_3;
                        back_3 = back_2;
                    }
                    back_2 = back_1;
                }
                back_1 = back_0;
                back_0 = distance;
            }
            if (length == 0)
                length = in.length(repeat_lengths);
        }
        if (back_0 >= filled)
            return; // damaged
        for (; length > 0 && filled < size; --length, ++filled)
            out[filled] = out[filled - back_0 - 1];
    }
}

} // namespace

std::uint32_t unpack(unsigned char* text, std::size_t length, unsigned char* out, std::size_t size) {
    static Bits in;
    in.at = text;
    in.end = text + bytes_of(text, length);
    in.range = 0xffffffff;
    in.code = 0;
    std::fill(std::begin(in.chances), std::end(in.chances), std::uint16_t{1024});
    for (int i = 0; i < 5; ++i) // the first byte is always 0
        in.code = in.code << 8 | (in.at < in.end ? *in.at++ : 0);
    expand(in, out, size);
    std::uint32_t check = 0x811c9dc5;
    for (std::size_t i = 0; i < size; ++i)
        check = (check ^ out[i]) * 0x01000193;
    return check;
}

} // namespace hangtime::unpack
