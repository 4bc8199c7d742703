# cmake -DINPUT=FILE -DOUTPUT=FILE.cpp -DNAME=symbol -P embed.cmake: a file's bytes as a C++ source.
file(READ ${INPUT} hex HEX)
string(LENGTH "${hex}" digits)
math(EXPR size "${digits} / 2")
string(REGEX REPLACE "(................................)" "\\1\n" hex "${hex}")
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
file(WRITE ${OUTPUT} "extern \"C\" {
extern const unsigned char ${NAME}[${size}];
extern const unsigned int ${NAME}_size;
alignas(4) const unsigned char ${NAME}[${size}] = {\n${bytes}};
const unsigned int ${NAME}_size = ${size};
}
")
