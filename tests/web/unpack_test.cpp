#include "web/unpack/unpack.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>
#include <string_view>
#include <vector>

using hangtime::unpack::unpack;

namespace {

// 6000 bytes: words, single bytes and pieces of what came before, near and far.
std::string sample() {
    static constexpr std::string_view words[] = {"bag",  "bed",   "set",  "vein", "line",
                                                 "rate", "label", "time", "drop", "hour"};
    std::string out;
    std::uint32_t x = 12345;
    while (out.size() < 6000) {
        x = (x * 1103515245 + 12345) & 0x7fffffff;
        const std::uint32_t k = x >> 16;
        if (k % 5 == 0)
            out += static_cast<char>(k >> 3 & 255);
        else if (k % 5 == 1 && out.size() > 2000)
            out += std::string(out, k * 37 % (out.size() - 40), 10 + k % 30);
        else
            (out += words[k % 10]) += ' ';
    }
    out.resize(6000);
    return out;
}

// The same bytes as XZ Utils 5.4.1 wrote them: --format=raw --lzma1=preset=9e,lc=3,lp=0,pb=0, then as signs. The encoder is not ours, so this holds our decoder against the format and not against itself.
constexpr std::string_view packed = R"x(
SUfWv8YgZ8cI#f!wR>6U+y$uNQpOE8Dok5ZW#8m[5A?~%Zbf02BogI:D?U@h\bQ8hfsg?8#Elgb}%::+jBkFOiT(GbG>j=j;Rj=`
fVfl]$pc+TkL@yTxjX$EQfeR]AYJoYvK,MUiX|`Nf^lV!t(E>K%iv+&fS'5t@-Wc)!_,iUtHBEXX1it}G!2;I7\".jB[&H2IKSs+
))COKY_|8jrw=m%BXK]P*h'S]!JJF;#IcjH6v~u(=L'4!xjg-))iVfp_>rxuq>k+N)'eyf2vR5TKXb"3nu9R_OsxRenzatfo(?$5
9"%]ap8Kr;;h?8a[&:B*%;_xiqaQ?n-H!]J0.n%7.gpgkplYSIALU=g7frXYu@)26Tn;8?U9%Z:ZA-DNmN_MP@Z`#6wRw?5BS3ZD
jt4x]'B~tNWgsfc$GIVZE8L4Y:`*fbGqCkb'U+QG?vg;/Z?;Q.U%GVxu76x`mb-o(pV1c(mQ%+l8@TIMR@ezLMLqFxm13&I\w:aW
){6.fiiC"|1liA[1GypQBbPo5C6lT}803)MH8/(lTTaW"OocwP$M5QwA:(1WD0@Z1?)#]GaL'g0u3&udT>8I=8)\+:'sj2=irK9)
055.yTAElb("]7N),t`|y(/cGpy_0pC"fOT*W67GRa`"6J06AT1Zu7RkUR-+o0NWW>K7VC,CCsVF:4q&cCr;mK`y@p5RZoB3=Lmr
"H?qEAG\MuDy@2,1Pyt/8SZ_""MqjYC'='BE23eFlz!SnDHu``WqX%S"/v02\u.8YLK;!+59^!O-A?P5aoU@rc7Y=ceB/~yQY,vG
5|-~@X>Q0`J]hr)^(YCHuIeZ$tqH/>\S*sY4-0\jB},uO8t:A_q#'IO$O3BV-ft>p77gp2X^8oeX1"&"@yc}w=r[!Oyv7YQh"&bw
;)9@?R#TZ*^UB*AG(&1Vbl?cV&l.uq3kH,R[^"s(c:Cg[%'Hk3b(F:6Q4OqOQmKn"/PpEE.f0guWIM6r!J`\3hw]A/6_3O05SBpq
y?KT-wx".XC-21Ygt&=-v^hmefZB=v@%"(K`4@$|X-S=GO(v.~6|k1Yh/k*TT=7H$#pA'J=_y0LN`H-se8vi;tEt@Gvk'sdu^:*?
a}ya+xh/*{%GLw!Wkqw8%$76[{cEw^G_6!3PJYc2PGM%:~fF.x.1sXt}Je9?\1BUQWH;6)cOKVhW+iDGn5-F8m'B$HS7r;f$C{*4
lpZ~i-/z^BvT:i##C\[Aps?OT*.e=4;))P.{*JciE_mr=ZNHIeE@F\IQcg9D)0C&iN\h21*r7eR&uddz:3ox!CI|5'h/OQljIiIZ
]UatN]4fB0sHw'kM7{sV.3n"F;9j30MjIT6lwnkep7M=!rTPO=&gxr'gN~3(&~S$Zxp9AXplR##|](oU\ibS'=1Q[1kPO)H`BBLH
-((IEE9%6^:+Wa=a9k^Z7DijN$cqc}QBAs#yb>0uqriH%v+WK`]gnJN,Bf4bPc$clTPss6z$yFny!]
)x";

std::string unpacked(std::string_view text, std::size_t size, std::uint32_t& check) {
    std::vector<unsigned char> in(text.begin(), text.end()), out(size);
    check = unpack(in.data(), in.size(), out.data(), out.size());
    return {out.begin(), out.end()};
}

// FNV-1a, 32 bits, of nothing and of "a", as its authors publish them (from memory).
constexpr std::uint32_t check_of_nothing = 0x811c9dc5, check_of_a = 0xe40c292c;

} // namespace

TEST_CASE("what xz has written is unpacked", "[unpack]") {
    std::uint32_t check = 0;
    REQUIRE(unpacked(packed, 6000, check) == sample());
    REQUIRE(check == 0xc71b0a4e);
}

TEST_CASE("an editor's line breaks and spaces mean nothing in what is packed", "[unpack]") {
    std::string wrapped;
    for (const char c : packed)
        if (c != '\n')
            (wrapped += c) += wrapped.size() % 7 == 0 ? "\r\n\t" : " ";
    std::uint32_t check = 0;
    REQUIRE(unpacked(wrapped, 6000, check) == sample());
}

TEST_CASE("the check is FNV-1a", "[unpack]") {
    std::uint32_t check = 0;
    unpacked("", 0, check);
    REQUIRE(check == check_of_nothing);
    const std::string one = unpacked(packed, 1, check);
    REQUIRE(check == (check_of_nothing ^ static_cast<unsigned char>(one[0])) * 0x01000193u);
    REQUIRE(check_of_a == (check_of_nothing ^ 'a') * 0x01000193u);
}

TEST_CASE("each changed sign of what is packed is noticed, and none is read or written out of bounds",
          "[unpack]") {
    std::uint32_t right = 0, check = 0;
    unpacked(packed, 6000, right);
    // Not the first two signs, nor the last ones: the first byte and the end marker count for nothing.
    for (std::size_t at = 4; at + 40 < packed.size(); ++at) {
        if (packed[at] == '\n')
            continue;
        std::string damaged(packed);
        damaged[at] = damaged[at] == 'a' ? 'b' : 'a';
        unpacked(damaged, 6000, check);
        INFO("the sign at " << at);
        REQUIRE(check != right);
    }
    unpacked(packed.substr(0, packed.size() / 2), 6000, check);
    REQUIRE(check != right);
    unpacked("", 6000, check);
    REQUIRE(check != right);
}
