package quantity

import "fmt"

func ExampleParse() {
	v, _ := Parse(Slope, "1/4 in per ft")
	fmt.Println(v, v.Rat(), v.Fixed())

	_, err := Parse(Flow, "1,3 L/s")
	fmt.Println(err)
	fmt.Println(err.(*ParseError).Hint)
	// Output:
	// 1/4 in/ft 1/48 20833
	// "1,3 L/s" is not a flow: it has a decimal comma
	// write "1.3 L/s"
}

func ExampleFormat() {
	fmt.Println(Format(Length, 1905000, US), "or", Format(Length, 1905000, SI))
	fmt.Println(Format(Size, 80, US), "or", Format(Size, 80, SI))
	// Output:
	// 6 ft 3 in or 1.91 m
	// 3 in or DN 80
}
