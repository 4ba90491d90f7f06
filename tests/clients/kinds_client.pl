# By Perl's IO over TCP: reads a panel's lines into OUT, and writes LINES to it: the first once a
# line has come, each other one ten lines later.
#   kinds_client.pl HOST:PORT OUT [LINES...]
use strict;
use warnings;
use IO::Handle;
use IO::Socket::INET;

my ($address, $out_name, @to_write) = @ARGV;
my $link = IO::Socket::INET->new($address) or die "$address: $@";
open(my $out, ">", $out_name) or die "$out_name: $!";
$_->autoflush(1) for $link, $out;
my $count = 0;
while (my $line = <$link>) {
    print $out $line;
    print $link shift(@to_write), "\n" if @to_write and ++$count % 10 == 1;
}
die "the panel closed the connection\n";
